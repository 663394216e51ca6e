"""A photo being prepared is claimed, its tries are counted, and the sweep finds what waits."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("photos", "0001_photo")]

    operations = [
        migrations.AddField("photo", "claimed_at", models.DateTimeField(blank=True, null=True)),
        migrations.AddField("photo", "tries", models.PositiveSmallIntegerField(default=0)),
        migrations.AddIndex(
            "photo",
            models.Index(
                fields=["recorded_at"], condition=models.Q(("state", "waiting")), name="photo_waiting"
            ),
        ),
    ]
