"""What the season costs and what pays for it: whole numbers of the currency's smallest coin. Append-only."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink, Season


class Purse(models.Model):
    """The currency a rink counts in. Chosen once: amounts of two currencies never add up."""

    rink = models.OneToOneField(Rink, on_delete=models.CASCADE, related_name="purse")
    code = models.CharField(max_length=3)
    digits = models.PositiveSmallIntegerField(default=2)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    chosen_at = models.DateTimeField()

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(digits__lte=3), name="purse_digits_at_most_3")]

    def __str__(self) -> str:
        return self.code


class WaterPrice(models.Model):
    """What water costs from a day on. Per 1000 m³, so that fractions of a cent per m³ stay whole numbers."""

    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="water_prices")
    starts_on = models.DateField()
    cents_per_1000_m3 = models.PositiveBigIntegerField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()

    class Meta:
        ordering = ["starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["rink", "starts_on"], name="water_price_once_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.cents_per_1000_m3} / 1000 m³"


class Payment(models.Model):
    """Money that went out or came in. A mistake is taken back with a reason and stays in the book."""

    class Kind(models.TextChoices):
        WATER = "water-bill", _("water bill")
        FUEL = "fuel", _("fuel")
        MATERIAL = "material", _("material")
        TOOL = "tool", _("tools and machines")
        INSURANCE = "insurance", _("insurance and permits")
        OTHER = "other", _("other expense")
        DUES = "dues", _("dues")
        GRANT = "grant", _("grant")
        GIFT = "gift", _("gift")
        OTHER_IN = "other-in", _("other income")

    INCOME = (Kind.DUES, Kind.GRANT, Kind.GIFT, Kind.OTHER_IN)

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.PROTECT, related_name="payments")
    season = models.ForeignKey(Season, on_delete=models.PROTECT, related_name="payments")
    on = models.DateField()
    kind = models.CharField(max_length=10, choices=Kind.choices)
    cents = models.PositiveBigIntegerField()
    what = models.CharField(max_length=200)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField()
    fingerprint = models.CharField(max_length=64)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    reason = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ["-on", "-recorded_at"]
        constraints = [models.CheckConstraint(condition=Q(cents__gt=0), name="payment_above_zero")]

    def __str__(self) -> str:
        return f"{self.kind} {self.on} {self.cents}"

    @property
    def is_income(self) -> bool:
        """Whether it came in."""
        return self.kind in self.INCOME
