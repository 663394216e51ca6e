"""How the site itself is doing, and how its first keeper gets in."""

from django.db import models


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
