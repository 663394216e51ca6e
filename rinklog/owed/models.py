"""What the rink owes others: things on loan that go back one day, and days by which a paper must be in."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink


class Loan(models.Model):
    """Something lent to the rink: how many, by whom, since when. What happened to it later are its events."""

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="loans")
    what = models.CharField(max_length=120)
    count = models.PositiveIntegerField(default=1)
    lender = models.CharField(max_length=120)
    lent_on = models.DateField()
    back_on = models.DateField(null=True, blank=True)  # when the lender wants it back
    note = models.CharField(max_length=400, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)

    class Meta:
        ordering = ["lent_on", "what"]
        constraints = [models.CheckConstraint(condition=Q(count__gt=0), name="loan_of_something")]

    def __str__(self) -> str:
        return f"{self.count} {self.what}"


class LoanEvent(models.Model):
    """Some of a loan broke, was mended, was lost, found or given back. Never edited."""

    class What(models.TextChoices):
        FAULT = "fault", _("broken")
        MENDED = "mended", _("mended")
        LOST = "lost", _("lost")
        FOUND = "found", _("found again")
        RETURNED = "returned", _("given back")

    id = models.UUIDField(primary_key=True, editable=False)
    loan = models.ForeignKey(Loan, on_delete=models.PROTECT, related_name="events")
    what = models.CharField(max_length=10, choices=What.choices)
    count = models.PositiveIntegerField(default=1)
    on = models.DateField()
    note = models.CharField(max_length=400, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)

    class Meta:
        ordering = ["on", "recorded_at"]
        constraints = [models.CheckConstraint(condition=Q(count__gt=0), name="loan_event_of_something")]

    def __str__(self) -> str:
        return f"{self.what} {self.count}"


class Deadline(models.Model):
    """A day by which something must be in: a grant, an insurance, a permit. People are reminded until it is done."""

    class Kind(models.TextChoices):
        GRANT = "grant", _("grant")
        INSURANCE = "insurance", _("insurance")
        PERMIT = "permit", _("permit")
        OTHER = "other", _("other paper")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="deadlines")
    kind = models.CharField(max_length=10, choices=Kind.choices)
    what = models.CharField(max_length=160)
    due_on = models.DateField()
    yearly = models.BooleanField(default=False)  # done once, it stands again a year later
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)
    done_on = models.DateField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    dropped = models.BooleanField(default=False)  # ended without being done: no longer wanted

    class Meta:
        ordering = ["due_on", "what"]
        indexes = [
            models.Index(
                fields=["due_on"], condition=Q(done_on__isnull=True, dropped=False), name="deadline_to_come"
            )
        ]

    def __str__(self) -> str:
        return f"{self.what} by {self.due_on}"
