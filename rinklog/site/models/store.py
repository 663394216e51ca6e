"""The store: what there is of everything, where it lies, in which state, and what to buy next year."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from rinklog.rink.models import Rink
from rinklog.site.things import Thing


class StoredItem(models.Model):
    """One kind of thing in one place. It belongs to the rink, so it goes on from season to season."""

    class State(models.TextChoices):
        GOOD = "good", _("good")
        MEND = "mend", _("wants mending")
        GONE = "gone", _("gone or worn out")

    id = models.UUIDField(primary_key=True, editable=False)
    rink = models.ForeignKey(Rink, on_delete=models.CASCADE, related_name="stored_items")
    thing = models.CharField(max_length=12, choices=Thing.choices)
    name = models.CharField(max_length=80)
    quantity = models.PositiveIntegerField(default=1)
    length_m = models.FloatField(null=True, blank=True)
    width_m = models.FloatField(null=True, blank=True)
    place = models.CharField(max_length=120, blank=True)
    state = models.CharField(max_length=6, choices=State.choices, default=State.GOOD)
    bought_on = models.DateField(null=True, blank=True)
    gone_on = models.DateField(null=True, blank=True)
    buy = models.PositiveIntegerField(default=0)  # how many to buy for the next season
    note = models.CharField(max_length=400, blank=True)
    counted_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["thing", "name", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(bought_on__isnull=True)
                | Q(gone_on__isnull=True)
                | Q(gone_on__gte=F("bought_on")),
                name="stored_item_gone_after_bought",
            ),
            models.CheckConstraint(
                condition=Q(state="gone", gone_on__isnull=False)
                | (~Q(state="gone") & Q(gone_on__isnull=True)),
                name="stored_item_gone_on_a_day",
            ),
        ]

    def __str__(self) -> str:
        return self.name
