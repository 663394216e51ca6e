"""What people may do on a rink, when they can come, and the weekday teams."""

import uuid
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.dates import WEEKDAYS
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink


class PermissionKind(models.TextChoices):
    """What somebody must be allowed, trained or signed up for."""

    TORCH = "torch", _("torch, trained")
    HYDRANT = "hydrant", _("hydrant and key")
    BLOWER = "blower", _("snow blower or plough")
    TRACTOR = "tractor", _("tractor or resurfacer")
    KEYS = "keys", _("hut keys and alarm")
    WAIVER = "waiver", _("waiver signed")
    OF_AGE = "of-age", _("of age")


class Permission(models.Model):
    """A person may do something on a rink, from a date to a date (none: for good)."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="permissions")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="permissions")
    what = models.CharField(max_length=10, choices=PermissionKind.choices)
    since = models.DateField()
    until = models.DateField(null=True, blank=True)  # the last day it holds
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [models.Index(fields=["rink", "person", "what"], name="permission_of_person")]
        constraints = [
            models.CheckConstraint(
                condition=Q(until__isnull=True) | Q(until__gte=F("since")), name="permission_ends_after_start"
            ),
            models.UniqueConstraint(
                fields=["rink", "person", "what"],
                condition=Q(withdrawn_at__isnull=True),
                name="permission_once_a_person",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.what} {self.person_id}"


class Availability(models.Model):
    """When a person can come, cannot, or would rather (not), in the time zone they said it in.

    A weekly line has a weekday and wall-clock times; an absence has two moments. Somebody without weekly lines
    can come on any evening.
    """

    class Sort(models.TextChoices):
        CAN = "can", _("can come")
        AWAY = "away", _("away")
        LIKES = "likes", _("likes to come")
        RATHER_NOT = "rather-not", _("would rather not")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="+")
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="availability"
    )
    sort = models.CharField(max_length=10, choices=Sort.choices)
    zone = models.CharField(max_length=60)
    weekday = models.PositiveSmallIntegerField(null=True, blank=True)  # 0 is Monday
    from_time = models.TimeField(null=True, blank=True)
    to_time = models.TimeField(null=True, blank=True)  # not after from_time: past midnight
    starts_at = models.DateTimeField(null=True, blank=True)
    ends_at = models.DateTimeField(null=True, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["rink", "person"], name="availability_of_person")]
        constraints = [
            models.CheckConstraint(
                condition=Q(weekday__isnull=False, starts_at__isnull=True, ends_at__isnull=True)
                | Q(weekday__isnull=True, starts_at__isnull=False, ends_at__gt=F("starts_at")),
                name="availability_weekly_or_once",
            )
        ]

    def __str__(self) -> str:
        return f"{self.sort} {self.person_id}"

    @property
    def weekday_name(self) -> str:
        """The weekday's name."""
        return "" if self.weekday is None else str(WEEKDAYS[self.weekday])

    @property
    def tz(self) -> ZoneInfo:
        """The time zone it was said in."""
        return ZoneInfo(self.zone)


class Team(models.Model):
    """The people of one weekday's evening, with a leader who is reminded. Their evenings become ice-work shifts."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="teams")
    weekday = models.PositiveSmallIntegerField()  # 0 is Monday
    name = models.CharField(max_length=60)
    starts_at = models.TimeField()
    minutes = models.PositiveSmallIntegerField(default=120)
    leader = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    people = models.ManyToManyField(settings.AUTH_USER_MODEL, related_name="teams")
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["weekday", "starts_at"]
        constraints = [
            models.CheckConstraint(condition=Q(weekday__lte=6), name="team_has_a_weekday"),
            models.CheckConstraint(condition=Q(minutes__range=(15, 720)), name="team_minutes_15_to_720"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def weekday_name(self) -> str:
        """The weekday's name."""
        return str(WEEKDAYS[self.weekday])


class Holiday(models.Model):
    """A day on which people come to skate and nobody thinks of the hut: uncovered ones are shown early."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="holidays")
    day = models.DateField()
    name = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ["day"]
        constraints = [models.UniqueConstraint(fields=["rink", "day"], name="holiday_once_a_rink")]

    def __str__(self) -> str:
        return f"{self.day} {self.name}"
