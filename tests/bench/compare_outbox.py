"""Five hundred entries that waited on a phone, sent by the page, against the same posts sent by a script."""

import datetime as dt
import time
from uuid import uuid4

from tests.bench.measure import Row, at_least, comparison
from tests.bench.phone_site import RINK, phone, prepared, served, until

WAITING, TURNS = 500, 2
PATH = f"/r/{RINK}/log/flood/"
KEEP = """async ([path, posts]) => { for (const fields of posts)
  await outboxStore.keep({ id: fields[0][1], url: path, fields,
  who: document.querySelector('[data-outbox-words]').dataset.person, rink: 'bench-rink', title: 'Flood', summary: '',
  page: path, zones: [], madeAt: Date.now(), filledHere: false, state: 'waiting' }); }"""


def posts(count: int, zones: list[int], person: str) -> list[list[list[str]]]:
    """Floods as the form posts them."""
    start = dt.datetime.now(dt.UTC) - dt.timedelta(hours=20)
    made = []
    for n in range(count):
        local = (start + dt.timedelta(minutes=n)).strftime("%Y-%m-%dT%H:%M")
        fields = [
            ["id", str(uuid4())],
            ["sent", ""],
            ["started", local],
            ["by", "amount"],
            ["amount", str(100 + n)],
        ]
        fields += [["water", "cold"], ["tool", "hose"], ["zones", str(zones[n % len(zones)])]]
        made.append([*fields, [f"minutes-{person}", "20"], ["note", f"no. {n}"]])
    return made


@comparison("outbox-drain")
def outbox_drain() -> Row:
    """Entries a second, both sides in turn on the same site."""
    from tests.bench.against.post_script import send

    session = prepared()
    from rinklog.crew.models import Person
    from rinklog.rink.models import Zone
    from rinklog.work.models import Entry

    zones, person = list(Zone.objects.values_list("id", flat=True)), str(Person.objects.get().id)
    taken = {"ours": 0.0, "script": 0.0}
    with served() as site, phone(site, session) as context:
        page = context.new_page()
        page.goto(f"/r/{RINK}/")
        until(page, "navigator.serviceWorker.ready.then(() => !!navigator.serviceWorker.controller)")
        send(site.port, session, PATH, posts(20, zones, person))
        for turn in range(TURNS * 2):
            each = posts(WAITING // TURNS, zones, person)
            if turn % 2:
                page.evaluate(KEEP, [PATH, each])
                began = time.perf_counter()
                left = page.evaluate("outboxSend.drain()")["left"]
                assert left == 0, left
                taken["ours"] += time.perf_counter() - began
            else:
                began = time.perf_counter()
                send(site.port, session, PATH, each)
                taken["script"] += time.perf_counter() - began
    stored = Entry.objects.count()
    rates = WAITING / taken["ours"], WAITING / taken["script"]
    note = f"{stored} stored of {2 * WAITING + 20}"
    fine = stored == 2 * WAITING + 20
    return at_least("outbox-drain", *rates, times=0.7, unit="entries/s", also=fine, note=note)
