"""Reviews once built, and the links by which they are shared. What they say comes from the facts, never from here."""

import uuid

from django.conf import settings
from django.db import models

from rinklog.rink.models import Season


class BuiltReview(models.Model):
    """The review of one season as last built. It holds until the facts behind it have another fingerprint."""

    season = models.OneToOneField(Season, on_delete=models.CASCADE, related_name="built_review")
    # Of the facts the content was made from; empty until something was built.
    fingerprint = models.CharField(max_length=64, blank=True)
    content = models.JSONField(default=dict)
    made_at = models.DateTimeField(null=True, blank=True)
    # What was asked for last, and how far the task that builds it has come.
    wanted = models.CharField(max_length=64, blank=True)
    asked_at = models.DateTimeField(null=True, blank=True)
    taken_at = models.DateTimeField(null=True, blank=True)
    done = models.PositiveSmallIntegerField(default=0)
    total = models.PositiveSmallIntegerField(default=0)

    def __str__(self) -> str:
        return f"review of {self.season_id}"

    @property
    def is_waiting(self) -> bool:
        """Whether something newer is being built."""
        return self.wanted != self.fingerprint


class BuiltFile(models.Model):
    """One file of a built review. `readers` says for whom: with or without what only some may see."""

    review = models.ForeignKey(BuiltReview, on_delete=models.CASCADE, related_name="files")
    name = models.CharField(max_length=20)  # review.pdf, review.xlsx
    readers = models.CharField(max_length=10)
    language = models.CharField(max_length=10, default="en")
    content = models.BinaryField()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["review", "name", "readers", "language"], name="built_file_once_a_language"
            )
        ]

    def __str__(self) -> str:
        return f"{self.name} for {self.readers}"


class SeasonCold(models.Model):
    """Freezing degree days of one season [°C·d], kept because reading its hours takes long; null: none are known."""

    season = models.OneToOneField(Season, on_delete=models.CASCADE, related_name="+")
    fingerprint = models.CharField(max_length=64)  # of the weather it came from
    freezing_degree_days = models.FloatField(null=True)

    def __str__(self) -> str:
        return f"{self.freezing_degree_days} °C·d"


class SharedLink(models.Model):
    """A read-only link to one season's review, for people outside the crew. Revoked, never deleted."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    season = models.ForeignKey(Season, on_delete=models.CASCADE, related_name="shared_links")
    token_hash = models.CharField(max_length=64, unique=True)
    for_whom = models.CharField(max_length=120)
    with_money = models.BooleanField(default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"for {self.for_whom}"
