"""On the shift itself: what is handed over to the next one, and who is on the ice."""

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from rinklog.plan.models.shifts import Shift
from rinklog.rink.models import Rink


class HandOver(models.Model):
    """What the next shift must know: drawn from the log when it was written, completed by a person."""

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="hand_overs")
    shift = models.ForeignKey(
        Shift, on_delete=models.PROTECT, null=True, blank=True, related_name="hand_overs"
    )
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    facts = models.JSONField(default=dict)  # the log as it was then; see plan/queries/hand_over.py
    hose = models.CharField(max_length=200, blank=True)  # where it lies, drained or not
    machines = models.CharField(max_length=400, blank=True)  # troubles
    note = models.TextField(blank=True)
    fingerprint = models.CharField(max_length=64)

    class Meta:
        ordering = ["-at"]
        indexes = [models.Index(fields=["rink", "-at"], name="hand_over_latest")]

    def __str__(self) -> str:
        return f"hand-over {self.at:%Y-%m-%d %H:%M}"


class HandOverRead(models.Model):
    """A person has read a hand-over."""

    hand_over = models.ForeignKey(HandOver, on_delete=models.CASCADE, related_name="read")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["hand_over", "person"], name="hand_over_read_once")]

    def __str__(self) -> str:
        return f"{self.person_id} read {self.hand_over_id}"


class OnIce(models.Model):
    """A person went on the ice, and came off it. Who is not off when they meant to be is looked for."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="+")
    shift = models.ForeignKey(Shift, on_delete=models.PROTECT, null=True, blank=True, related_name="on_ice")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    on_at = models.DateTimeField()
    off_by = models.DateTimeField()  # when they mean to be off at the latest
    off_at = models.DateTimeField(null=True, blank=True)
    noted_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    alarmed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["on_at"]
        indexes = [models.Index(fields=["off_by"], condition=Q(off_at__isnull=True), name="still_on_ice")]
        constraints = [
            models.UniqueConstraint(
                fields=["rink", "person"], condition=Q(off_at__isnull=True), name="on_ice_once_a_person"
            ),
            models.CheckConstraint(
                condition=Q(off_at__isnull=True) | Q(off_at__gte=F("on_at")), name="off_ice_after_on"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person_id} on the ice {self.on_at:%H:%M}"
