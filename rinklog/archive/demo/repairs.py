"""The invented repairs: which hazard was tried with what, and what the next inspection found."""

from rinklog.archive.demo.jobs import Job
from rinklog.work.models import Hazard

HOLDING, BACK = Hazard.State.HOLDING.value, Hazard.State.BACK_AGAIN.value


def patch(
    day: int,
    hour: int,
    method: str,
    zones: str,
    people: dict[str, int],
    *hazards: str,
    coat_mm: float = 0.0,
    note: str = "",
) -> Job:
    """A patch on hazards."""
    return Job(
        name=f"patch {day} {zones}",
        kind="patch",
        day=day,
        hour=hour,
        minute=10,
        people=people,
        zones=zones,
        coat_mm=coat_mm,
        details={"method": method},
        hazards=hazards,
        note=note,
    )


def torch(day: int, hour: int, zones: str, people: dict[str, int], second: str, *hazards: str) -> Job:
    """A torch repair with its second person."""
    return Job(
        name=f"torch {day}",
        kind="torch-repair",
        day=day,
        hour=hour,
        minute=0,
        people=people,
        zones=zones,
        details={"flame_minutes": 18.0, "fuel": "propane", "fuel_kg": 0.6, "second_person": second},
        hazards=hazards,
        note="Extinguisher and bucket beside us, nets tied up.",
    )


def tarp(
    day: int,
    hour: int,
    zones: str,
    people: dict[str, int],
    *hazards: str,
    result: str = "",
    hours_ago: float | None = None,
) -> Job:
    """A tarp melt; without a result the cover still lies there."""
    return Job(
        name=f"tarp {day}",
        kind="tarp-melt",
        day=day,
        hour=hour,
        minute=0,
        people=people,
        zones=zones,
        details={"cover": "dark-tarp"},
        hazards=hazards,
        events=(("lifted", 170),) if result else (),
        result=result,
        hours_ago=hours_ago,
        note="Snow swept off first, edges weighed down." if result else "",
    )


def inspect(
    day: int, hour: int, login: str, conditions: dict[str, str], holding: dict[str, str], note: str = ""
) -> Job:
    """An inspection of some zones and of the repairs that were due."""
    return Job(
        name=f"inspection {day}",
        kind="inspection",
        day=day,
        hour=hour,
        minute=20,
        people={login: 20},
        zones=" ".join(conditions) or "none",
        conditions=conditions,
        holding=holding,
        note=note,
    )


REPAIRS = (
    patch(-25, 18, "slush-pack", "D1 D2 D3 D4", {"miko": 40, "ante": 40}, "long crack"),
    patch(-23, 17, "scrape", "A2 A3", {"jorun": 25}, "crease bump"),
    inspect(
        -21,
        16,
        "odo",
        {"A2": "good", "A3": "rough", "D2": "cracked"},
        {"long crack": BACK, "crease bump": HOLDING},
    ),
    patch(
        -21,
        19,
        "hot-water-pour",
        "G1",
        {"siw": 35, "bas": 35},
        "shell",
        coat_mm=4.0,
        note="Broken out first.",
    ),
    patch(
        -20,
        18,
        "slush-pack",
        "D1 D2 D3 D4",
        {"miko": 50, "tilde": 50},
        "long crack",
        note="Wetter this time.",
    ),
    patch(-19, 22, "bucket-pour", "E3", {"tilde": 20}, "hose pit", coat_mm=3.0),
    patch(-18, 20, "bucket-pour", "E3", {"odo": 20}, "hose pit", coat_mm=3.0),
    inspect(
        -17,
        16,
        "odo",
        {"E3": "thin", "D2": "good", "G1": "good"},
        {"long crack": HOLDING, "shell": HOLDING, "hose pit": HOLDING},
    ),
    inspect(
        -11,
        16,
        "runa",
        {"E3": "thin", "A2": "wet", "D2": "good"},
        {"hose pit": BACK},
        "The thaw took the fill.",
    ),
    patch(
        -10,
        19,
        "bucket-pour",
        "E3",
        {"tilde": 25, "bas": 25},
        "hose pit",
        coat_mm=4.0,
        note="Ice chunks first.",
    ),
    torch(-8, 14, "E4", {"odo": 45, "runa": 45}, "Runa Rimlid", "heaps"),
    inspect(-7, 16, "tilde", {"E3": "good", "E4": "good"}, {"hose pit": HOLDING, "heaps": HOLDING}),
    tarp(-5, 11, "G4", {"jorun": 15}, "leaves", result="level"),
    patch(-5, 18, "bucket-pour", "G4", {"jorun": 20}, "leaves", coat_mm=2.0),
    patch(-2, 18, "slush-pack", "H2 H3", {"bas": 30, "ante": 30}, "gate rut"),
    inspect(-1, 16, "odo", {"H3": "worn", "G4": "good", "E3": "good"}, {"gate rut": BACK, "leaves": HOLDING}),
    tarp(0, 0, "E4", {"siw": 10}, "soft edge", hours_ago=2.0),
)
