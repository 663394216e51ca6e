"""Photos: each its own post with its own id, processed after the fact, never waited for.

A photo names what it shows by (subject, subject_id) without a foreign key: it may arrive before its entry does.
"""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink


class Photo(models.Model):
    """One picture. The file as it came is deleted once the two clean sizes exist."""

    class Subject(models.TextChoices):
        ENTRY = "entry", _("entry")  # subject_id is the entry's root
        HAZARD = "hazard", _("hazard")
        RECORD = "record", _("record")
        ITEM = "item", _("thing in the store")

    class Moment(models.TextChoices):
        ANY = "", _("no matter")
        BEFORE = "before", _("before")
        AFTER = "after", _("after")

    class State(models.TextChoices):
        WAITING = "waiting", _("being prepared")
        READY = "ready", _("ready")
        REFUSED = "refused", _("could not be used")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="photos")
    subject = models.CharField(max_length=8, choices=Subject.choices)
    subject_id = models.UUIDField()
    moment = models.CharField(max_length=8, choices=Moment.choices, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    refusal = models.CharField(max_length=20, blank=True)  # a code; the page has the sentence
    fingerprint = models.CharField(max_length=64)  # SHA-256 of the bytes as they came
    arrived = models.FileField(max_length=200, blank=True)
    large = models.FileField(max_length=200, blank=True)
    small = models.FileField(max_length=200, blank=True)
    width_px = models.PositiveIntegerField(null=True, blank=True)
    height_px = models.PositiveIntegerField(null=True, blank=True)
    # Who prepares it claims the row for a while; who dies at it leaves it to the sweep, but not for ever.
    claimed_at = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    taken_back_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [
            models.Index(fields=["rink", "subject", "subject_id"], name="photo_by_subject"),
            # The sweep looks for these every minute, among photos that are nearly all ready.
            models.Index(fields=["recorded_at"], condition=Q(state="waiting"), name="photo_waiting"),
        ]

    def __str__(self) -> str:
        return f"{self.subject} {uuid.UUID(str(self.subject_id))}"
