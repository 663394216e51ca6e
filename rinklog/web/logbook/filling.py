"""Making the form of a kind of work: fresh with smart defaults, as posted, half done, or from an entry to amend."""

from typing import Any

from django.http import QueryDict

from rinklog.crew.models import Person
from rinklog.crew.queries import crew_of
from rinklog.rink.models import Grid
from rinklog.rink.queries import grid_holding, latest_flow_ls, zones
from rinklog.web.access import At, found
from rinklog.web.logbook.asked import asked_for
from rinklog.web.logbook.forms import FORMS, WorkForm
from rinklog.web.rinkmap.drawing import quick_picks
from rinklog.work import queries
from rinklog.work.kinds import KINDS
from rinklog.work.models import Entry, Hazard
from rinklog.work.repair_queries import said_by_lineage


def fresh_form(at: At, kind: str, query: QueryDict, hazard: Hazard | None = None) -> WorkForm:
    """The form with smart defaults: now, me, the last amounts, the last zones, the latest bucket test.

    With `hazard`, the form is for work on it, where it is. What the address asks for comes last and wins.
    """
    form_class = form_class_of(kind)
    last = queries.latest_of_kind(at.rink, kind, by=at.person) or queries.latest_of_kind(at.rink, kind)
    initial = form_class.defaults(at, last)
    if kind == "flood" and (flow := latest_flow_ls(at.rink)):
        initial["hose_flow_ls"] = flow
    if hazard is not None and KINDS[kind].repairs:
        initial |= {"hazards": [hazard.id], "zones": [zone.id for zone in hazard.zones.all()]}
    initial |= asked_for(at, kind, query)
    return form_class(initial=initial, **surroundings(at, kind))


def amending_form(at: At, entry: Entry) -> WorkForm:
    """The form as it was filled for an entry, on that entry's grid."""
    form_class = form_class_of(entry.kind)
    return form_class(initial=form_class.from_entry(entry), **surroundings(at, entry.kind, entry))


def posted_form(at: At, kind: str, post: QueryDict, amends: Entry | None = None) -> WorkForm:
    """The form as it was sent."""
    around = surroundings(at, kind, amends)
    picked = {int(zone) for zone in post.getlist("zones") if zone.isdigit()}
    elsewhere = amends is None and picked - {zone.id for zone in around["zones"]}
    # It waited on a phone while a new season began: it belongs to the grid on which it was written.
    if elsewhere and (grid := grid_holding(at.rink, picked)):
        around |= {"grid": grid, "zones": zones(grid)}
    return form_class_of(kind)(post, **around)


def half_done_form(at: At, kind: str, post: QueryDict, amends: Entry | None = None) -> WorkForm:
    """The form as it was typed so far, after a quick pick or a mark: nothing is judged yet, nothing is lost."""
    blank = form_class_of(kind)(**surroundings(at, kind, amends))
    typed = {
        name: field.widget.value_from_datadict(post, {}, name)  # type: ignore[arg-type]
        for name, field in blank.fields.items()
    }
    typed["zones"] = [int(zone) for zone in typed["zones"] if zone.isdigit()]
    if "pick" in post:
        typed["zones"] = picks(at, blank).get(str(post["pick"]), typed["zones"])
    if "mark" in post:
        typed = blank.mark(typed)
    blank.initial = typed
    return blank


def surroundings(at: At, kind: str, amends: Entry | None = None) -> dict[str, Any]:
    """What a form needs to know of the rink: an amendment stays on the grid of what it amends."""
    grid: Grid = amends.grid if amends else at.season.grid
    return {
        "at": at,
        "grid": grid,
        "zones": zones(grid),
        "crew": crew_of(at.rink) if amends is None else crew_and(at, amends),
        "hazards": hazards_for(at, kind, amends),
        "amending": amends is not None,
    }


def crew_and(at: At, entry: Entry) -> list[Person]:
    """The crew of today and whoever worked then."""
    crew = crew_of(at.rink)
    known = {person.id for person in crew}
    return crew + [row.person for row in entry.people.all() if row.person_id not in known]


def hazards_for(at: At, kind: str, amends: Entry | None) -> list[Hazard]:
    """Which hazards the form offers: open ones to repair, repaired ones to judge, and those it named before."""
    work = KINDS[kind]
    if not (work.repairs or work.judges):
        return []
    offered = list(queries.repaired_hazards(at.rink) if work.judges else queries.open_hazards(at.rink))
    if amends is not None:
        known = {hazard.id for hazard in offered}
        named = {event.hazard_id: event.hazard for event in said_by_lineage(amends.root_id)}
        offered += [hazard for id, hazard in named.items() if id not in known]
    return offered


def picks(at: At, form: WorkForm) -> dict[str, list[int]]:
    """Zone ids of the quick picks on the form's grid."""
    ids = quick_picks(form.grid_zones, form.grid)
    last = queries.latest_of_kind(at.rink, form.kind)
    if last is not None and last.grid_id == form.grid.id:
        ids["last"] = [row.zone_id for row in last.zones.all()]
    return ids


def form_class_of(kind: str) -> type[WorkForm]:
    """The form of a kind, or 404."""
    return found(FORMS.get(kind))
