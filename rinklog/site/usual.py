"""The usual lists of autumn and spring, in the order of doing. Where no source stands beside a task: common practice."""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from rinklog.site.models import SiteTask

When = SiteTask.When


@dataclass(frozen=True)
class Usual:
    """A task of the usual list: its words, what must be done before, when it suits, and whose practice it is."""

    key: str
    title: Promise
    needs: tuple[str, ...] = ()
    when: str = When.ANY
    source: str = ""


SET_UP = (
    Usual(
        "permits",
        _("Permission, insurance, water and grants: dates kept"),
        source="Toronto, Ottawa, London ON",
    ),
    Usual("survey", _("Survey the ground and choose a layout")),
    Usual("buried", _("Ask what lies buried before a stake is driven")),
    Usual("clear", _("Mow; take off stones, roots and sticks")),
    Usual("site-check", _("Inspect the site"), ("survey",), source="County of Grande Prairie AB"),
    Usual("string", _("String out the sides until both diagonals agree"), ("survey", "clear")),
    Usual("stakes", _("Drive the stakes"), ("string", "buried"), When.BEFORE_FROST),
    Usual("fence-posts", _("Set the posts of the snow fence"), ("buried",), When.BEFORE_FROST),
    Usual("posts", _("Set the posts of lights and nets"), ("buried",), When.BEFORE_FROST),
    Usual("boards", _("Put up boards and brackets"), ("stakes",)),
    Usual(
        "board-check",
        _("Inspect the boards before any water"),
        ("boards",),
        source="County of Grande Prairie AB",
    ),
    Usual("fence", _("Hang the snow fence, with its gap beneath"), ("fence-posts",)),
    Usual("power", _("Residual-current device on every lead, joints out of the wet")),
    Usual("hose", _("Hose, nozzle and tap tried; bucket test")),
    Usual("rope-light", _("Rope light on the ground for lines and circles"), ("boards", "power")),
    Usual("under-liner", _("Everything that belongs under the liner lies there"), ("clear", "rope-light")),
    Usual("signs", _("Signs, cones, barriers, first aid and extinguisher out")),
    Usual(
        "liner",
        _("Lay the liner, just before the water"),
        ("under-liner", "board-check"),
        When.CALM,
        "Burlington ON",
    ),
    Usual("fill", _("First fill"), ("liner", "hose"), When.COLD_RUN),
    Usual(
        "fasten", _("Fasten the liner, and tape across to keep people off"), ("fill",), source="Burlington ON"
    ),
)
TAKE_DOWN = (
    Usual("close", _("Closed for good: sign out, people told")),
    Usual(
        "odd",
        _("Odd thickness, dangerous spots, near misses, notices: written down"),
        source="Tukes, Finland",
    ),
    Usual("fence-drifts", _("Snow fence: note the drift behind it, then take it down")),
    Usual("nets", _("Nets down, dried, rolled")),
    Usual("drain", _("Let it melt; lead the water away from houses and paths"), ("close",), When.THAW),
    Usual("liner-up", _("Lift, wash and dry the liner; patch it or write it off"), ("drain",), When.CALM),
    Usual("boards-down", _("Boards off, numbered, dry and off the ground"), ("drain",)),
    Usual("stakes-out", _("Pull and count the stakes"), ("boards-down",)),
    Usual("hoses-in", _("Hoses drained and frost-free")),
    Usual("machines", _("Machines: fuel out or treated, service")),
    Usual("loans", _("Keys and borrowed things returned"), source="Ottawa"),
    Usual(
        "ground-check",
        _("Inspect the ground for damage"),
        ("boards-down", "liner-up"),
        source="County of Grande Prairie AB",
    ),
    Usual(
        "count", _("Count the store: where, in what state, with a photo"), ("stakes-out", "liner-up", "nets")
    ),
    Usual("buy", _("Write down what to buy for next year"), ("count",)),
)
LISTS = {SiteTask.List.SET_UP: SET_UP, SiteTask.List.TAKE_DOWN: TAKE_DOWN}
BY_KEY = {(name, one.key): one for name, usual in LISTS.items() for one in usual}


def title_of(task: SiteTask) -> str:
    """A task's words: its own, else those of the usual list."""
    usual = BY_KEY.get((SiteTask.List(task.list), task.key))
    return task.title or (str(usual.title) if usual else task.key)


def source_of(task: SiteTask) -> str:
    """Whose practice a task is; empty for a task of one's own, or without a source."""
    usual = BY_KEY.get((SiteTask.List(task.list), task.key))
    return usual.source if usual and not task.title else ""
