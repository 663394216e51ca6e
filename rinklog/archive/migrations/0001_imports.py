"""Imports under way, so that a page can show how far they are."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True
    dependencies = [
        ("rink", "0001_rink_and_grid"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Import",
            fields=[
                ("id", models.UUIDField(editable=False, primary_key=True, serialize=False)),
                ("made_at", models.DateTimeField()),
                ("file_name", models.CharField(max_length=120)),
                ("file", models.FileField(blank=True, max_length=200, upload_to="")),
                ("fingerprint", models.CharField(max_length=64)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("checking", "being checked"),
                            ("checked", "checked"),
                            ("importing", "being imported"),
                            ("done", "imported"),
                            ("refused", "cannot be read"),
                        ],
                        default="checking",
                        max_length=10,
                    ),
                ),
                ("total", models.PositiveIntegerField(default=0)),
                ("done", models.PositiveIntegerField(default=0)),
                ("moved_at", models.DateTimeField()),
                ("who", models.JSONField(default=dict)),
                ("report", models.JSONField(default=dict)),
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
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="imports", to="rink.rink"
                    ),
                ),
            ],
            options={"ordering": ["-made_at"]},
        )
    ]
