"""The database itself holds that an entry has at most one revision that counts."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("work", "0003_covers_still_open")]

    operations = [
        migrations.AddConstraint(
            "entry",
            models.UniqueConstraint(
                fields=["root"],
                condition=models.Q(state__in=["standing", "withdrawn"]),
                name="entry_one_current_revision",
            ),
        ),
        migrations.AddConstraint(
            "entry",
            models.CheckConstraint(
                condition=models.Q(amends__isnull=False) | models.Q(root=models.F("id")),
                name="entry_first_is_its_own_root",
            ),
        ),
    ]
