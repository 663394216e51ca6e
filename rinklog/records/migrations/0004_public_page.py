import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0003_check_lines_in_order"),
        ("rink", "0001_rink_and_grid"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="PublicPage",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "shown",
                    models.CharField(
                        choices=[
                            ("off", "no public page"),
                            ("link", "for whoever has the link; search engines are asked to leave it out"),
                            ("listed", "for everybody, search engines too"),
                        ],
                        default="off",
                        max_length=8,
                    ),
                ),
                ("changed_at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "rink",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="public_page",
                        to="rink.rink",
                    ),
                ),
            ],
        ),
    ]
