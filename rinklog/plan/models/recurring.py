"""Work that comes again and again, by an RFC 5545 rule, and each date on which it falls due."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink
from rinklog.work.models import Entry


class RecurringTask(models.Model):
    """A rule in the rink's own time zone: it begins on a date, at a time of the rink's clock (DTSTART)."""

    class Round(models.TextChoices):
        RESURFACING = "resurfacing", _("resurfacing")
        SNOW_CHECK = "snow-check", _("snow check")
        HAZARD_ROUND = "hazard-round", _("hazard round")
        DRILL_ROUND = "drill-round", _("drill round")
        MACHINE_CHECK = "machine-check", _("hose and machine check")
        SNOW_REMOVAL = "snow-removal", _("snow removal")
        FLOOD = "flood", _("flood")
        PATCH = "patch", _("patch")
        INSPECTION = "inspection", _("inspection")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="recurring")
    round = models.CharField(max_length=16, choices=Round.choices)
    title = models.CharField(max_length=80, blank=True)
    begins_on = models.DateField()
    at = models.TimeField()
    rule = models.CharField(max_length=200)  # RRULE without its name; UNTIL is a date of the rink's calendar
    except_on = models.JSONField(default=list)  # EXDATE: dates of the rink's calendar, ISO
    span_minutes = models.PositiveIntegerField(default=240)
    only_when = models.JSONField(default=dict)  # see plan/conditions.py
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["round", "begins_on", "at"]
        indexes = [models.Index(fields=["rink"], condition=Q(ended_at__isnull=True), name="task_under_way")]
        constraints = [
            models.CheckConstraint(condition=Q(span_minutes__range=(15, 20160)), name="task_span_in_range")
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def name(self) -> str:
        """What people call it."""
        return self.title or str(self.get_round_display())


class DueDate(models.Model):
    """One date of a task, from `due_at` to `until`. It ends as done, let go or passed; an entry makes it done."""

    class State(models.TextChoices):
        OPEN = "open", _("due")
        DONE = "done", _("done")
        LET_GO = "let-go", _("let go")
        PASSED = "passed", _("passed")

    task = models.ForeignKey(RecurringTask, on_delete=models.CASCADE, related_name="dates")
    due_at = models.DateTimeField()
    until = models.DateTimeField()
    state = models.CharField(max_length=8, choices=State.choices, default=State.OPEN)
    # Why it was let go: the condition's key, what was asked and what was found. Words are made when it is read.
    reason = models.JSONField(default=dict)
    entry = models.ForeignKey(Entry, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    settled_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["due_at"]
        indexes = [
            models.Index(fields=["due_at"], condition=Q(state="open"), name="due_date_open"),
            models.Index(fields=["task", "-due_at"], name="due_date_of_task"),
        ]
        constraints = [
            models.UniqueConstraint(fields=["task", "due_at"], name="due_once"),
            models.CheckConstraint(condition=Q(until__gt=F("due_at")), name="due_ends_after_start"),
        ]

    def __str__(self) -> str:
        return f"{self.task_id} {self.due_at:%Y-%m-%d %H:%M}"
