"""A patch: a small repair with slush, with poured water or with a scraper."""

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from rinklog.work.content import EntryContent
from rinklog.work.errors import Refused
from rinklog.work.kinds.base import Choice, WorkKind

SCRAPE = "scrape"


def check(content: EntryContent) -> None:
    """A scrape pours nothing."""
    if content.details.get("method") == SCRAPE and content.water_m3:
        raise Refused(
            "amount",
            _("A scrape takes no water; leave the water empty, or choose how it was poured."),
        )


PATCH = WorkKind(
    key="patch",
    title=lazy("Patch"),
    icon="patch",
    takes_water=True,
    repairs=True,
    details={
        "method": Choice(
            lazy("Method"),
            {
                "slush-pack": lazy("slush pack"),
                "bucket-pour": lazy("bucket pour"),
                "hot-water-pour": lazy("hot-water pour"),
                SCRAPE: lazy("scrape"),
            },
            required=True,
        ),
    },
    check=check,
)
