"""The survey that counts, the layouts on it, and the materials."""

from uuid import UUID

from django.db.models import QuerySet

from rinklog.geometry.ground import Ground
from rinklog.geometry.sheet import Lay, Sheet
from rinklog.geometry.site import Kit
from rinklog.geometry.standing import Placed
from rinklog.rink.models import Grid, Rink
from rinklog.site.models import Layout, Materials, Survey

USUAL_GUST_MS = 25.0
KIT = tuple(Kit.__dataclass_fields__)


def surveys(rink: Rink) -> QuerySet[Survey]:
    """Every survey of a rink, the latest first."""
    return Survey.objects.filter(rink=rink).select_related("by")


def latest_survey(rink: Rink) -> Survey | None:
    """The survey that counts."""
    return surveys(rink).first()


def layouts(rink: Rink) -> list[Layout]:
    """Every layout of a rink, the oldest first."""
    return list(Layout.objects.filter(rink=rink))


def layout(rink: Rink, id: UUID) -> Layout | None:
    """One layout of a rink."""
    return Layout.objects.filter(rink=rink, id=id).first()


def ground_of(survey: Survey) -> Ground:
    """A survey as geometry has it."""
    return Ground(tuple(map(tuple, survey.levels_m)), survey.length_m, survey.width_m)


def sheet_of(grid: Grid) -> Sheet:
    """The sheet of a grid."""
    return Sheet(grid.length_m, grid.width_m, grid.corner_m)


def lay_of(layout: Layout) -> Lay:
    """A layout as geometry has it."""
    return Lay(layout.x_m, layout.y_m, layout.turn_deg, layout.lower_m, layout.raise_m)


def middle_of(survey: Survey) -> Lay:
    """The sheet in the middle of the surveyed field, along it, nothing levelled."""
    return Lay(survey.length_m / 2, survey.width_m / 2)


def chosen_placed(rink: Rink, grid: Grid) -> tuple[Survey, Layout | None, Placed] | None:
    """The latest survey with the chosen layout on it, or the sheet in its middle; None without a survey. Two queries."""
    survey = latest_survey(rink)
    if survey is None:
        return None
    chosen = Layout.objects.filter(rink=rink, chosen=True).first()
    lay = lay_of(chosen) if chosen else middle_of(survey)
    return survey, chosen, Placed(ground_of(survey), sheet_of(grid), lay)


def materials(rink: Rink) -> Materials | None:
    """What the rink is built with, once somebody has said so."""
    return Materials.objects.filter(rink=rink).first()


def kit_of(found: Materials | None) -> Kit:
    """The materials as geometry has them; the usual ones while nobody has said."""
    return Kit(**{name: getattr(found, name) for name in KIT}) if found else Kit()


def gust_of(found: Materials | None) -> float:
    """The gust to build for [m/s]."""
    return found.gust_ms if found else USUAL_GUST_MS
