"""Events of a hazard come in turn and can be taken back; a hazard put up by mistake can be withdrawn."""

from django.db import migrations, models

STATES = [
    ("found", "found"),
    ("marked", "marked"),
    ("under-repair", "under repair"),
    ("holding", "repaired, holding"),
    ("back-again", "back again"),
    ("closed", "closed"),
    ("withdrawn", "withdrawn"),
]


class Migration(migrations.Migration):
    dependencies = [("work", "0001_entry_and_hazard")]

    operations = [
        migrations.AlterField(
            "hazard", "state", models.CharField(choices=STATES, default="found", max_length=12)
        ),
        migrations.AlterField("hazardevent", "state", models.CharField(choices=STATES, max_length=12)),
        migrations.AlterModelOptions("hazardevent", {"ordering": ["at", "turn"]}),
        migrations.AddField("hazardevent", "turn", models.PositiveIntegerField(default=1)),
        migrations.AddField("hazardevent", "undone_at", models.DateTimeField(blank=True, null=True)),
        migrations.AddConstraint(
            "hazardevent", models.UniqueConstraint(fields=("hazard", "turn"), name="hazard_turn_once")
        ),
    ]
