"""Every table that a review may have, by its key."""

from rinklog.reports.review import (
    days,
    earlier,
    floods,
    hazards,
    held,
    labour,
    lessons,
    money,
    practice,
    snow,
    water,
    whole,
    zones,
)
from rinklog.reports.review.tables import Shape

ALL: tuple[Shape, ...] = (
    whole.FIGURES_SHAPE,
    days.DAYS_SHAPE,
    whole.WEATHER_SHAPE,
    water.WEEKS_SHAPE,
    water.KINDS_SHAPE,
    water.METER_SHAPE,
    labour.PEOPLE_SHAPE,
    labour.ROLES_SHAPE,
    labour.KINDS_SHAPE,
    floods.SUMMARY_SHAPE,
    floods.SPOILERS_SHAPE,
    floods.EVERY_SHAPE,
    snow.SUMMARY_SHAPE,
    snow.TOOLS_SHAPE,
    hazards.KINDS_SHAPE,
    hazards.HAZARDS_SHAPE,
    practice.PRACTICE_SHAPE,
    practice.MODEL_SHAPE,
    held.HELD_SHAPE,
    held.PAIRS_SHAPE,
    held.CURVES_SHAPE,
    held.PIECES_SHAPE,
    held.STRATA_SHAPE,
    zones.ZONES_SHAPE,
    money.MONEY_SHAPE,
    earlier.EARLIER_SHAPE,
    lessons.LESSONS_SHAPE,
)
SHAPES: dict[str, Shape] = {shape.key: shape for shape in ALL}
