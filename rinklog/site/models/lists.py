"""What is put up in autumn and taken down in spring: one task a row, with what must come before it."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Season


class SiteTask(models.Model):
    """One thing to do for the site. Its own order: whatever it `needs` must be done before."""

    class List(models.TextChoices):
        SET_UP = "set-up", _("set-up")
        TAKE_DOWN = "take-down", _("take-down")

    class When(models.TextChoices):
        ANY = "any", _("whenever it suits")
        BEFORE_FROST = "before-frost", _("before the ground freezes")
        CALM = "calm", _("in calm, dry hours")
        COLD_RUN = "cold-run", _("when enough cold nights are promised")
        THAW = "thaw", _("when it thaws")

    id = models.UUIDField(primary_key=True, editable=False)
    season = models.ForeignKey(Season, on_delete=models.CASCADE, related_name="site_tasks")
    list = models.CharField(max_length=9, choices=List.choices)
    key = models.CharField(max_length=24, blank=True)  # of the usual list; its words come from there
    title = models.CharField(max_length=120, blank=True)
    when = models.CharField(max_length=12, choices=When.choices, default=When.ANY)
    place = models.PositiveSmallIntegerField(default=0)
    due_on = models.DateField(null=True, blank=True)
    needs = models.ManyToManyField("self", symmetrical=False, related_name="needed_by")
    people = models.ManyToManyField(settings.AUTH_USER_MODEL, related_name="+")
    done_on = models.DateField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    note = models.CharField(max_length=400, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["place", "recorded_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["season", "list", "key"], condition=~Q(key=""), name="usual_task_once_a_season"
            ),
            models.CheckConstraint(
                condition=Q(done_on__isnull=True, done_by__isnull=True)
                | Q(done_on__isnull=False, done_by__isnull=False),
                name="site_task_done_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return self.title or self.key
