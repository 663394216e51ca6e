"""Weather as facts: what was observed, and what a provider foretold. The two are never in one table."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink


class HourFields(models.Model):
    """The values of `hours.Hour`, in SI; null is not known."""

    at = models.DateTimeField()
    air_c = models.FloatField(null=True)
    dew_point_c = models.FloatField(null=True)
    humidity_frac = models.FloatField(null=True)
    wind_ms = models.FloatField(null=True)
    gust_ms = models.FloatField(null=True)
    wind_from_deg = models.FloatField(null=True)
    cloud_frac = models.FloatField(null=True)
    shortwave_wm2 = models.FloatField(null=True)
    longwave_wm2 = models.FloatField(null=True)
    pressure_pa = models.FloatField(null=True)
    pressure_is_station = models.BooleanField(null=True)
    precip_mm = models.FloatField(null=True)
    snow_m = models.FloatField(null=True)

    class Meta:
        abstract = True


class Observation(HourFields):
    """What a station, a file or a person read at one time. A correction replaces values, never with nothing."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="observations")
    source = models.CharField(max_length=60)
    recorded_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    mark = models.BigIntegerField()  # 40 bits of its content: sums of them tell whether a stretch changed

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["rink", "source", "at"], name="one_observation_a_time")
        ]
        indexes = [models.Index(fields=["rink", "at"], name="observation_by_time")]

    def __str__(self) -> str:
        return f"{self.source} {self.at:%Y-%m-%d %H:%M}"


class ForecastRun(models.Model):
    """One answer of one provider, as it came. Never changed; old ones lose the hours that a newer run foretold."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="forecasts")
    provider = models.CharField(max_length=30)
    made_at = models.DateTimeField()
    fetched_at = models.DateTimeField()
    expires_at = models.DateTimeField(null=True)
    fingerprint = models.CharField(max_length=64)  # SHA-256 of the content
    mark = models.BigIntegerField()  # 40 bits of it
    starts_at = models.DateTimeField()  # the stretch it speaks of
    ends_at = models.DateTimeField()
    flags = models.JSONField(default=list)  # what was wrong with it, in words
    thinned_at = models.DateTimeField(null=True)

    class Meta:
        indexes = [models.Index(fields=["rink", "starts_at", "ends_at"], name="run_by_stretch")]
        verbose_name = _("forecast run")

    def __str__(self) -> str:
        return f"{self.provider} {self.made_at:%Y-%m-%d %H:%M}"


class ForecastHour(HourFields):
    """One step of a run: sums and means hold over the `step_s` that begin at `at`."""

    run = models.ForeignKey(ForecastRun, on_delete=models.CASCADE, related_name="hours")
    step_s = models.PositiveIntegerField(default=3600)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["run", "at"], name="one_step_a_time")]

    def __str__(self) -> str:
        return f"{self.run_id} {self.at:%Y-%m-%d %H:%M}"


class WeatherSetup(models.Model):
    """What the keeper has said of a rink's weather sources. Without it nothing outside is asked."""

    rink = models.OneToOneField(Rink, on_delete=models.CASCADE, related_name="weather_setup")
    contact = models.CharField(max_length=120, blank=True)  # e-mail or web address, sent to the services
    altitude_m = models.FloatField(null=True)
    metar_station = models.CharField(max_length=4, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    changed_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"weather of {self.rink_id}"


class ProviderState(models.Model):
    """One source of one rink: whether and in which turn it is asked, and how the last asking went."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="weather_sources")
    provider = models.CharField(max_length=30)
    is_on = models.BooleanField(default=False)
    turn = models.PositiveSmallIntegerField(default=0)
    asked_at = models.DateTimeField(null=True)
    good_at = models.DateTimeField(null=True)  # when it last answered well
    expires_at = models.DateTimeField(null=True)  # until then its last answer is fresh
    rest_until = models.DateTimeField(null=True)  # after failures, or because it asked for it
    failures = models.PositiveSmallIntegerField(default=0)  # in a row
    problem = models.CharField(max_length=400, blank=True)  # what was wrong last, empty when nothing
    etag = models.CharField(max_length=200, blank=True)
    last_modified = models.CharField(max_length=60, blank=True)
    asked_for = models.CharField(max_length=80, blank=True)  # position or station that the tags belong to
    found_path = models.CharField(max_length=200, blank=True)  # the second address, where the first gives one

    class Meta:
        ordering = ["turn", "id"]
        constraints = [models.UniqueConstraint(fields=["rink", "provider"], name="one_state_a_source")]

    def __str__(self) -> str:
        return f"{self.provider} {'on' if self.is_on else 'off'}"


class WeatherFile(models.Model):
    """An uploaded weather file on its way into the observations; `resume` is where reading goes on."""

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting for its turn")
        READING = "reading", _("being read")
        DONE = "done", _("read")
        REFUSED = "refused", _("cannot be read")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="weather_files")
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    moved_at = models.DateTimeField()  # when it last got further: a sweep finds what stands still
    file_name = models.CharField(max_length=120)
    file = models.FileField(max_length=200, blank=True)
    fingerprint = models.CharField(max_length=64)  # SHA-256 of the file as it came
    format = models.CharField(max_length=12, blank=True)  # empty: to be told from its first bytes
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    sentence = models.CharField(max_length=400, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)  # since it last got further
    total_bytes = models.PositiveBigIntegerField(default=0)
    done_bytes = models.PositiveBigIntegerField(default=0)
    resume = models.JSONField(default=dict)
    hours = models.PositiveIntegerField(default=0)  # read
    added = models.PositiveIntegerField(default=0)  # of them new, or saying more than what was here
    starts_at = models.DateTimeField(null=True)
    ends_at = models.DateTimeField(null=True)
    missing = models.JSONField(default=dict)  # hours without a value, by its name
    flagged = models.JSONField(default=dict)  # how many, by name and reason
    flags = models.JSONField(default=list)  # the first ones: where, name, value, reason

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.file_name} {self.state}"

    @property
    def is_busy(self) -> bool:
        """Whether a task is at it, or should be."""
        return self.state in (self.State.WAITING, self.State.READING)

    @property
    def flag_count(self) -> int:
        """Everything that was not used as it stands."""
        return sum(self.flagged.values())
