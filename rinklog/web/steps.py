"""By how much a tap on minus or plus changes a number, in the person's unit: typical amounts of a rink's evening."""

from rinklog.web import measures
from rinklog.web.measures import Units

STEPS = {
    ("water", "l"): "50",
    ("water", "gal"): "10",
    ("minutes", "min"): "5",
    ("depth", "mm"): "5",
    ("depth", "in"): "0.25",
    ("coat", "mm"): "1",
    ("flow", "l/min"): "1",
    ("flow", "gal/min"): "0.5",
    ("temperature", "C"): "1",
    ("temperature", "F"): "1",
    ("speed", "km/h"): "5",
    ("speed", "m/s"): "1",
    ("speed", "mph"): "5",
}


def step_of(quantity: str, units: Units) -> str:
    """The step, as text for the page; empty where a step makes no sense, such as a water meter's reading."""
    return STEPS.get((quantity, measures.unit_name(quantity, units)), "")
