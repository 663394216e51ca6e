"""The invented hazards, and what became of each."""

from dataclasses import dataclass

from rinklog.work.models import Hazard

Kind, Severity, State = Hazard.Kind, Hazard.Severity, Hazard.State


@dataclass(frozen=True)
class Found:
    """A hazard as somebody found it; `x_m`, `y_m` from the near left corner."""

    name: str
    kind: str
    severity: str
    day: int
    hour: int
    by: str
    x_m: float
    y_m: float
    cone_out: bool = False
    note: str = ""
    drift_depth_m: float | None = None
    wind_from_deg: float | None = None
    hours_ago: float | None = None  # counted from now instead of by day and hour


@dataclass(frozen=True)
class Then:
    """What somebody said of a hazard later. What entries of the log say comes with the entries."""

    name: str
    day: int
    hour: int
    by: str
    state: str
    note: str = ""
    cone_out: bool | None = None


FOUND = (
    Found(
        "leak", Kind.LINER, Severity.NUISANCE, -45, 17, "runa", 38.6, 18.8, note="Wet ground behind stake 14."
    ),
    Found("bowed board", Kind.BOARD, Severity.TRIP, -32, 16, "odo", 9.5, 0.1, note="Leans out two fingers."),
    Found(
        "long crack",
        Kind.CRACK,
        Severity.TRIP,
        -26,
        18,
        "miko",
        15.0,
        9.0,
        True,
        "Right across, a finger wide.",
    ),
    Found("crease bump", Kind.BUMP, Severity.TRIP, -24, 19, "jorun", 3.0, 10.2, True),
    Found("shell", Kind.SHELL_ICE, Severity.TRIP, -22, 17, "siw", 31.0, 4.0, note="Hollow under the boot."),
    Found(
        "hose pit", Kind.THIN_SPOT, Severity.DANGER, -19, 22, "tilde", 20.5, 14.5, True, "Hose lay running."
    ),
    Found(
        "slush",
        Kind.SLUSH,
        Severity.DANGER,
        -13,
        12,
        "odo",
        6.0,
        9.0,
        True,
        "Ankle deep, keep everybody off.",
    ),
    Found("torn net", Kind.NET, Severity.NUISANCE, -12, 14, "bas", 1.2, 10.0),
    Found(
        "drift",
        Kind.DRIFT,
        Severity.TRIP,
        -11,
        7,
        "siw",
        30.0,
        18.5,
        False,
        "Along the road side.",
        0.35,
        250.0,
    ),
    Found(
        "heaps",
        Kind.RIDGE,
        Severity.TRIP,
        -9,
        16,
        "miko",
        22.0,
        19.4,
        False,
        "Snow left at the boards froze.",
    ),
    Found(
        "lamp",
        Kind.LIGHT,
        Severity.NUISANCE,
        -7,
        21,
        "ante",
        39.5,
        10.0,
        note="Far lamp flickers, then dark.",
    ),
    Found(
        "leaves", Kind.DEBRIS, Severity.NUISANCE, -6, 11, "jorun", 34.0, 16.0, note="Oak leaves a thumb down."
    ),
    Found("gate rut", Kind.RUT, Severity.TRIP, -3, 20, "bas", 37.0, 10.5, True, "Where everybody steps on."),
    Found(
        "soft edge", Kind.SOFT_SPOT, Severity.TRIP, -2, 15, "siw", 25.0, 19.0, note="Sun from the white wall."
    ),
    Found("far bump", Kind.BUMP, Severity.TRIP, -1, 20, "miko", 36.0, 6.0, True, "Size of a plate."),
    Found("fresh crack", Kind.CRACK, Severity.NUISANCE, 0, 0, "ante", 28.0, 7.5, hours_ago=5.0),
)
THEN = (
    Then("leak", -45, 20, "odo", State.UNDER_REPAIR, "Tape on both sides, board pulled in."),
    Then("leak", -44, 9, "odo", State.HOLDING),
    Then("leak", -40, 9, "runa", State.CLOSED, "Dry for four days."),
    Then("bowed board", -31, 10, "odo", State.UNDER_REPAIR, "Second stake and a brace."),
    Then("bowed board", -29, 17, "runa", State.HOLDING),
    Then("crease bump", -17, 17, "tilde", State.CLOSED),
    Then("shell", -16, 18, "odo", State.CLOSED),
    Then("slush", -10, 16, "odo", State.CLOSED, "Frozen through and flooded over."),
    Then("long crack", -15, 18, "odo", State.CLOSED),
    Then("torn net", -11, 18, "bas", State.UNDER_REPAIR),
    Then("torn net", -10, 15, "bas", State.CLOSED, "Sewn with cable ties."),
    Then("drift", -10, 18, "siw", State.CLOSED, "Thrown out over the boards."),
    Then("lamp", -6, 9, "tilde", State.UNDER_REPAIR, "Electrician asked; nobody else opens it."),
    Then("soft edge", -1, 16, "siw", State.MARKED, "Cone and snow bank on the wall."),
)
