"""What the rows of an import may name: the crew, the seasons and the grids of the rink."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from rinklog.archive.columns import ENTRY, HAZARD, HAZARD_EVENT
from rinklog.archive.plan import Plan, Shape, Typed
from rinklog.crew.models import Person
from rinklog.rink.models import Grid, Rink, Season
from rinklog.work.models import Entry, Hazard


@dataclass
class World:
    """One rink and what is known of it; filled by the rows of the file as they are checked."""

    rink: Rink
    now: dt.datetime
    mapping: dict[str, str]
    crew: set[str]
    site: set[str]
    seasons: dict[str, Season]
    names: dict[str, str] = field(default_factory=dict)  # login → name, from the file
    new_seasons: dict[str, Typed] = field(default_factory=dict)
    strangers: set[str] = field(default_factory=set)
    fresh: dict[str, dict[UUID, Typed]] = field(default_factory=dict)
    happened: dict[UUID, list[Typed]] = field(default_factory=dict)  # entry → hazard events behind it
    said: set[tuple[UUID, str]] = field(default_factory=set)  # (entry, what) of the file's events
    shapes: dict[str, Shape | None] = field(default_factory=dict)

    @classmethod
    def of(cls, rink: Rink, mapping: dict[str, str], now: dt.datetime) -> "World":
        """Look at the rink as it is."""
        return cls(
            rink=rink,
            now=now,
            mapping=mapping,
            # Who left keeps their name on what they did.
            crew=set(Person.objects.filter(memberships__rink=rink).values_list("login", flat=True)),
            site={login.lower() for login in Person.objects.values_list("login", flat=True)},
            seasons={
                season.name: season for season in Season.objects.filter(rink=rink).select_related("grid")
            },
        )

    def who(self, login: str) -> str:
        """The login that a login of the file stands for."""
        return self.mapping.get(login, login)

    def know(self, fresh: dict[str, list[Typed]]) -> None:
        """Remember the new rows, so that they may name one another."""
        self.fresh = {record: {row["id"]: row for row in rows} for record, rows in fresh.items()}
        for event in fresh[HAZARD_EVENT]:
            if event["entry"]:
                self.happened.setdefault(event["entry"], []).append(event)

    def new(self, record: str, id: UUID | None) -> Typed | None:
        """A new row of the file."""
        return self.fresh.get(record, {}).get(id) if id else None

    def shape(self, cell: str) -> Shape | None:
        """The shape of a grid cell."""
        if cell not in self.shapes:
            self.shapes[cell] = Shape.read(cell)
        return self.shapes[cell]


def check_person(plan: Plan, world: World, row: Typed) -> None:
    """Remember the name of somebody whom the rows below name."""
    if fits(plan, row, "by", 60) and fits(plan, row, "name", 120):
        world.names[row["by"]] = row["name"]


def check_season(plan: Plan, world: World, row: Typed) -> None:
    """Take in a season: a new one, or one of the rink that nothing was recorded in yet."""
    name = row["season"]
    if not fits(plan, row, "season", 40):
        return
    if world.shape(row["grid"]) is None:
        plan.wrong(row, "grid", row["grid"], _("allowed is a grid such as 8x4 40.0x20.0 r4.0"))
    elif row["ends_on"] and row["ends_on"] < row["starts_on"]:
        plan.wrong(row, "ends_on", row["ends_on"], _("is before the season starts"))
    elif name in world.new_seasons:
        plan.wrong(row, "season", name, _("is in the file twice"))
    else:
        world.new_seasons[name] = row
        if is_unused(world, name):
            plan.add("season", row)


def is_unused(world: World, name: str) -> bool:
    """Whether the rink has no such season, or nothing recorded in it: then the file's dates count."""
    season = world.seasons.get(name)
    return season is None or not (season.entries.exists() or season.hazards.exists())


def check_login(plan: Plan, world: World, row: Typed, column: str, login: str) -> bool:
    """Know who somebody is: of the crew, or new with the file; never somebody of another rink's crew."""
    if login in world.crew:
        return True
    if len(login) > 60:
        plan.wrong(row, column, login, _("a login has at most 60 letters"))
        return False
    if login.lower() in world.site or login.lower() in {one.lower() for one in plan.people if one != login}:
        world.strangers.add(login)
        plan.wrong(row, column, login, _("is not of this rink's crew; choose below who it is"))
        return False
    plan.people.setdefault(login, world.names.get(login, login))
    return True


def check_place(plan: Plan, world: World, row: Typed) -> bool:
    """The season is known, the grid is a grid, and the zones are on it."""
    shape = world.shape(row["grid"])
    if shape is None:
        plan.wrong(row, "grid", row["grid"], _("allowed is a grid such as 8x4 40.0x20.0 r4.0"))
        return False
    if row["season"] not in world.seasons and row["season"] not in world.new_seasons:
        plan.wrong(
            row, "season", row["season"], _("is no season of this rink, and no row of the file sets it up")
        )
        return False
    labels = shape.labels()
    for label in row["zones"]:
        if label not in labels:
            reason = _("is not a zone of a grid of %(rows)d by %(columns)d")
            plan.wrong(row, "zones", label, reason % {"rows": shape.rows, "columns": shape.columns})
            return False
    return True


def check_moment(plan: Plan, world: World, row: Typed, *columns: str) -> bool:
    """Nothing happened later than tomorrow."""
    for column in columns:
        if row[column] and row[column] > world.now + dt.timedelta(hours=26):
            plan.wrong(row, column, row[column].isoformat(), _("is in the future"))
            return False
    return True


def fits(plan: Plan, row: Typed, column: str, longest: int) -> bool:
    """A text is not longer than its field."""
    if len(row[column]) <= longest:
        return True
    plan.wrong(row, column, row[column], _("has more than %(most)d letters") % {"most": longest})
    return False


def one_of(plan: Plan, row: Typed, column: str, allowed: Any) -> bool:
    """A word is one of a list."""
    if row[column] in allowed:
        return True
    plan.wrong(row, column, row[column], _("allowed are %(names)s") % {"names": ", ".join(allowed)})
    return False


def known(world: World, record: str, id: UUID | None) -> bool:
    """Whether an entry or hazard of this rink has an id, in the file or here."""
    model: Any = {ENTRY: Entry, HAZARD: Hazard}[record]
    return world.new(record, id) is not None or model.objects.filter(rink=world.rink, id=id).exists()


def grid_of(rink: Rink, shape: Shape) -> Grid | None:
    """The rink's latest grid of a shape."""
    return Grid.objects.filter(rink=rink, **vars(shape)).order_by("-made_at").first()
