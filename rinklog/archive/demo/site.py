"""The invented site: the meadow surveyed, three layouts, a fence, the lists half done, and what lies in the barn."""

import datetime as dt
import math

from django.core.files.base import ContentFile

from rinklog.archive.demo.pictures import Picture, draw
from rinklog.archive.demo.work import Writer
from rinklog.geometry.sheet import Lay
from rinklog.geometry.site import Kit
from rinklog.photos.models import Photo
from rinklog.photos.services import prepare, receive_photo
from rinklog.site.models import SiteTask, StoredItem
from rinklog.site.services.fences import FenceContent, keep_exposure, keep_fence, look_at_fence
from rinklog.site.services.ground import keep_layout, keep_materials, keep_survey
from rinklog.site.services.lists import TaskContent, begin_list, finish_task, keep_task
from rinklog.site.services.store import ItemContent, keep_item

FIELD_M = (56.0, 32.0)
ROWS, COLUMNS = 8, 5
LAYOUTS = (
    ("as it stands", Lay(28.0, 16.0)),
    ("eight metres towards the barn", Lay(23.0, 13.0)),
    ("turned a little, top taken off", Lay(28.0, 16.0, 8.0, lower_m=0.04)),
)
KIT = Kit(
    cover_m=0.05, board_m=0.6, net_m=1.5, lines_at_m=(3.5, 14.0, 20.0, 26.0, 36.5), circle_radii_m=(3.0,)
)  # fmt: skip
OPEN_M = (None, 60.0, 40.0, None, 200.0, 600.0, 350.0, 120.0)
# (key, day, who) of the set-up list; what is not named is not done yet.
DONE = (
    ("permits", -80, "runa"), ("survey", -75, "odo"), ("buried", -74, "runa"), ("clear", -70, "bas"),
    ("string", -63, "odo"), ("stakes", -62, "odo"), ("fence-posts", -62, "bas"), ("boards", -60, "miko"),
    ("board-check", -58, "odo"), ("fence", -57, "bas"), ("power", -57, "runa"),
)  # fmt: skip
TAKEN_DOWN = (("loans", -2, "tilde"),)
STORE = (
    ("board", "plywood boards", 44, "barn, left wall", "good", 2.44, 0.6, None, 0, ""),
    ("board", "plywood boards, ends swollen", 3, "barn, left wall", "mend", 2.44, 0.6, None, 3, "Saw off or buy new."),
    ("bent-board", "bent boards for the corners", 12, "barn, loft", "good", 2.44, 0.6, None, 0, ""),
    ("stake", "steel stakes", 88, "barn, crate by the door", "good", None, None, None, 10, ""),
    ("bracket", "angle brackets", 110, "barn, crate by the door", "good", None, None, None, 0, ""),
    ("liner", "white liner", 1, "barn, on the beam", "good", 43.0, 23.0, -440, 0, "Two patches at the near end."),
    ("liner", "first liner", 1, "", "gone", 42.0, 22.0, -1170, 0, "Split along the fold."),
    ("rope-light", "rope light, red", 2, "hut, shelf", "good", 50.0, None, None, 1, ""),
    ("hose", "hose 25 mm with nozzle", 2, "hut, frost-free", "good", 30.0, None, None, 0, ""),
    ("net", "net behind the near end", 5, "barn, loft", "mend", 6.0, 1.5, None, 1, "Torn at one corner."),
    ("tool", "aluminium scrapers", 6, "hut, outside wall", "good", None, None, None, 2, "Two went missing."),
)  # fmt: skip
PHOTOS = {"white liner": "level", "plywood boards, ends swollen": "crack"}


def make_site(writer: Writer) -> None:
    """Everything of the site. It lies in the past, and the same call gives the same rows."""
    make_ground(writer)
    make_fence(writer)
    make_lists(writer)
    make_store(writer)


def make_ground(writer: Writer) -> None:
    """The meadow falls from the far right to the near left, with a hollow in the middle."""
    rink, odo, at = writer.rink, writer.people["odo"], writer.days.at(-75, 16)
    keep_survey(
        id=writer.id("survey of the meadow"),
        rink=rink,
        levels_m=[[level(row, column) for column in range(COLUMNS)] for row in range(ROWS)],
        size_m=FIELD_M,
        measured_on=writer.days.date(-75),
        note="Water level from the barn wall, a point every eight metres.",
        by=odo,
        now=at,
    )
    for name, lay in LAYOUTS:
        keep_layout(id=writer.id(f"layout {name}"), rink=rink, name=name, lay=lay, by=odo, now=at)
    keep_materials(rink=rink, kit=KIT, gust_ms=24.0)


def level(row: int, column: int) -> float:
    """Height of one point [m]."""
    hollow = 0.05 * math.exp(-((row - 3.5) ** 2 + (column - 2.0) ** 2) / 3)
    return round(0.022 * row + 0.014 * column - hollow + 0.006 * math.sin(5 * row + 3 * column), 3)


def make_fence(writer: Writer) -> None:
    """A fence along the road, and the drift that was seen behind it."""
    rink, odo = writer.rink, writer.people["odo"]
    keep_exposure(rink=rink, fetches_m=OPEN_M, snow_water_mm=140.0)
    fence = keep_fence(
        id=writer.id("road fence"),
        rink=rink,
        content=FenceContent("fence along the road", 225.0, 1.2, 60.0, 30.0, "slatted"),
        by=odo,
        now=writer.days.at(-57, 15),
    )
    look_at_fence(
        id=writer.id("look behind the road fence"),
        fence=fence,
        on=writer.days.date(-10),
        reach_m=19.0,
        depth_m=0.7,
        note="Its end lies open; snow came round it.",
        by=writer.people["siw"],
        now=writer.days.at(-10, 17),
        today=writer.days.date(-10),
    )


def make_lists(writer: Writer) -> None:
    """The set-up list half done, with people on what is left; the take-down list begun early."""
    season, runa, at = writer.rink.seasons.latest("starts_on"), writer.people["runa"], writer.days.at(-80, 20)
    for name, done in (("set-up", DONE), ("take-down", TAKEN_DOWN)):
        begin_list(season=season, name=name, by=runa, now=at)
        tasks = {one.key: one for one in SiteTask.objects.filter(season=season, list=name)}
        for key, day, who in done:
            on = writer.days.date(day)
            finish_task(task=tasks[key], on=on, today=on, by=writer.people[who], anyway=True)
        if name == "set-up":
            give(writer, tasks["posts"], "bas", writer.days.date(2))
            give(writer, tasks["signs"], "siw", None)


def give(writer: Writer, task: SiteTask, who: str, due_on: dt.date | None) -> None:
    """Give a task to somebody."""
    content = TaskContent(
        title="",
        when=task.when,
        due_on=due_on,
        needs=tuple(one.id for one in task.needs.all()),
        people=(writer.people[who].id,),
    )
    keep_task(
        id=task.id,
        season=task.season,
        name=task.list,
        content=content,
        by=writer.people["runa"],
        now=writer.days.at(-56, 20),
    )


def make_store(writer: Writer) -> None:
    """What lies in barn and hut, some of it with a photo."""
    now, by = writer.days.at(-56, 11), writer.people["jorun"]
    for thing, name, quantity, where, state, length, width, bought, buy, note in STORE:
        item = keep_item(
            id=writer.id(f"stored {name}"),
            rink=writer.rink,
            content=ItemContent(
                thing=thing,
                name=name,
                quantity=quantity,
                place=where,
                state=state,
                length_m=length,
                width_m=width,
                bought_on=writer.days.date(bought) if bought else None,
                gone_on=writer.days.date(-445) if state == "gone" else None,
                buy=buy,
                note=note,
            ),
            by=by,
            now=now,
            today=writer.days.date(-56),
        )
        if name in PHOTOS:
            photograph(writer, item, PHOTOS[name])


def photograph(writer: Writer, item: StoredItem, motif: str) -> None:
    """Put a drawn picture to a thing."""
    picture = Picture(item.name, motif, Photo.Subject.ITEM)
    photo = receive_photo(
        id=writer.id(f"picture of stored {item.name}"),
        rink=writer.rink,
        subject=Photo.Subject.ITEM,
        subject_id=item.id,
        file=ContentFile(draw(item.name, picture), name="drawn.jpg"),
        by=item.by,
        now=item.counted_at,
    ).photo
    prepare(id=photo.id, now=item.counted_at)
