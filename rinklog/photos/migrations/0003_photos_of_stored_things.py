"""Things in the store may have photos."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("photos", "0002_claim_and_sweep")]

    operations = [
        migrations.AlterField(
            model_name="photo",
            name="subject",
            field=models.CharField(
                choices=[
                    ("entry", "entry"),
                    ("hazard", "hazard"),
                    ("record", "record"),
                    ("item", "thing in the store"),
                ],
                max_length=8,
            ),
        ),
    ]
