"""A cover that was laid stays open until somebody lifts it, and is found without searching the season."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("work", "0002_hazard_events_in_turn")]

    operations = [
        migrations.AddField("entry", "is_open", models.BooleanField(default=False)),
        migrations.AddIndex(
            "entry",
            models.Index(fields=["rink"], condition=models.Q(is_open=True), name="entry_still_open"),
        ),
    ]
