"""The people of a site, what they are on each rink, and the ways in."""

import uuid
from typing import ClassVar

from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink


class PersonManager(BaseUserManager["Person"]):
    """Looks people up by login, whatever the case it is typed in."""

    def get_by_natural_key(self, username: str | None) -> "Person":
        return self.get(login__iexact=username)


class Person(AbstractBaseUser):
    """Somebody who can sign in. How they read numbers follows the person, not the rink."""

    class Depth(models.TextChoices):
        MM = "mm", _("millimetres and metres")
        IN = "in", _("inches and feet")

    class Water(models.TextChoices):
        LITRE = "l", _("litres")
        US_GALLON = "gal", _("US gallons")

    class Temperature(models.TextChoices):
        CELSIUS = "C", _("°C")
        FAHRENHEIT = "F", _("°F")

    class Speed(models.TextChoices):
        KMH = "km/h", _("km/h")
        MS = "m/s", _("m/s")
        MPH = "mph", _("mph")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    login = models.CharField(max_length=60, unique=True)
    name = models.CharField(max_length=120)
    is_active = models.BooleanField(default=True)
    language = models.CharField(max_length=10, default="en")
    depth_unit = models.CharField(max_length=4, choices=Depth.choices, default=Depth.MM)
    water_unit = models.CharField(max_length=4, choices=Water.choices, default=Water.LITRE)
    temperature_unit = models.CharField(
        max_length=2, choices=Temperature.choices, default=Temperature.CELSIUS
    )
    speed_unit = models.CharField(max_length=4, choices=Speed.choices, default=Speed.KMH)
    # Raised by "sign out everywhere": every session made under an older number ends.
    session_round = models.PositiveIntegerField(default=0)

    objects: ClassVar[PersonManager] = PersonManager()
    USERNAME_FIELD = "login"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        constraints = [models.UniqueConstraint(Lower("login"), name="login_unique_in_any_case")]

    def __str__(self) -> str:
        return self.name

    def _get_session_auth_hash(self, secret: str | None = None) -> str:
        """Bind sessions to the password and to the session round."""
        return f"{super()._get_session_auth_hash(secret=secret)}{self.session_round}"  # type: ignore[misc]


class Membership(models.Model):
    """What a person is on one rink."""

    class Role(models.TextChoices):
        KEEPER = "keeper", _("keeper")
        COORDINATOR = "coordinator", _("coordinator")
        VOLUNTEER = "volunteer", _("volunteer")
        GUEST = "guest", _("guest")

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships")
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=12, choices=Role.choices)
    since = models.DateTimeField()
    # A person who left keeps their name on what they did.
    left_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "rink"], name="one_membership_a_rink")]

    def __str__(self) -> str:
        return f"{self.person} · {self.role}"


class Invitation(models.Model):
    """A way in, by link or by a short code that can be read out; only hashes are kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="invitations")
    role = models.CharField(max_length=12, choices=Membership.Role.choices)
    token_hash = models.CharField(max_length=64, unique=True)
    code_hash = models.CharField(max_length=64, unique=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    uses_left = models.PositiveSmallIntegerField(default=1)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.role} · {self.rink}"


class ResetLink(models.Model):
    """A one-time link made by a keeper, for a person who forgot the password."""

    token_hash = models.CharField(max_length=64, unique=True)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"reset {self.person}"


class Attempt(models.Model):
    """One failed try at a door (sign-in, code, link), kept to slow guessing down."""

    door = models.CharField(max_length=12)
    who_hash = models.CharField(max_length=64)
    at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["door", "who_hash", "at"], name="attempt_by_who")]

    def __str__(self) -> str:
        return f"{self.door} {self.at}"


class SafetyRead(models.Model):
    """A person has read the safety points of a kind of work for a season."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    season = models.ForeignKey("rink.Season", on_delete=models.CASCADE, related_name="+")
    topic = models.CharField(max_length=20)
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["person", "season", "topic"], name="safety_once_a_season")
        ]

    def __str__(self) -> str:
        return f"{self.topic} {self.person}"
