"""Imports under way. Backups have no table: the files in the folder are the truth."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink


class Import(models.Model):
    """One uploaded file on its way into the log: checked first, written when a person says so."""

    class State(models.TextChoices):
        CHECKING = "checking", _("being checked")
        CHECKED = "checked", _("checked")
        IMPORTING = "importing", _("being imported")
        DONE = "done", _("imported")
        REFUSED = "refused", _("cannot be read")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="imports")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    file_name = models.CharField(max_length=120)
    file = models.FileField(max_length=200, blank=True)
    fingerprint = models.CharField(max_length=64)  # SHA-256 of the file
    state = models.CharField(max_length=10, choices=State.choices, default=State.CHECKING)
    total = models.PositiveIntegerField(default=0)
    done = models.PositiveIntegerField(default=0)
    moved_at = models.DateTimeField()  # when it last got further: a sweep finds what stands still
    who = models.JSONField(default=dict)  # login in the file → login of the crew
    report = models.JSONField(default=dict)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.file_name} {self.state}"

    @property
    def is_busy(self) -> bool:
        """Whether a task is at it."""
        return self.state in (self.State.CHECKING, self.State.IMPORTING)
