"""How the site itself is doing, and how its first keeper gets in."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Claim(models.Model):
    """A one-time link, printed in the terminal, that makes the first keeper; only its hash is kept."""

    token_hash = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"claim of {self.created_at:%Y-%m-%d %H:%M}"


class Heartbeat(models.Model):
    """When a part of the site last showed that it works."""

    name = models.CharField(max_length=40, unique=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.name} at {self.at:%Y-%m-%d %H:%M:%S}"


class TaskRun(models.Model):
    """One run of a task: what ran, on what, how it ended and why. Of runs that went well only the last is kept."""

    class State(models.TextChoices):
        RUNNING = "running", _("running")
        DONE = "done", _("done")
        FAILED = "failed", _("failed")

    task_id = models.CharField(max_length=60, unique=True)
    name = models.CharField(max_length=80)
    args = models.JSONField(default=list)
    state = models.CharField(max_length=8, choices=State.choices, default=State.RUNNING)
    tries = models.PositiveSmallIntegerField(default=1)  # a killed worker's task is given out again
    started_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    error = models.CharField(max_length=500, blank=True)
    # Set when the same task went well later.
    made_good_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [
            models.Index(fields=["name", "-started_at"], name="task_run_by_name"),
            models.Index(fields=["state", "-started_at"], name="task_run_by_state"),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.state}"
