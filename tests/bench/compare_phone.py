"""What a phone feels: how soon the rink page is there, how soon a tap shows, what a second visit needs of the network."""

from statistics import median
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page

from tests.bench.measure import Row, at_most, comparison
from tests.bench.phone_site import RINK, phone, prepared, served, signed_in, slowed, until
from tests.support.browser import AWAKE

SLOWER = 4.0
ROUNDS = 9
# Lighthouse 12's "mobile" where the browser does the holding up (its Constants.js, DEVTOOLS_RTT_ADJUSTMENT_FACTOR):
# 150 ms there and back three and three quarters times a request, nine tenths of 1.6 Mbit/s down and of 750 kbit/s up.
MOBILE = {
    "offline": False,
    "latency": 150 * 3.75,
    "downloadThroughput": 1474.56 * 128,
    "uploadThroughput": 675 * 128,
}
PAINT = """() => new Promise(done => new PerformanceObserver(list => done(list.getEntries().at(-1).startTime))
  .observe({ type: 'largest-contentful-paint', buffered: true }))"""


def painted_ms(browser: Any, base: str, path: str, session: str, *, mobile: bool) -> float:
    """Largest contentful paint [ms] of a first visit, on a slowed processor."""
    context = signed_in(browser, base, session)
    page = context.new_page()
    slow = slowed(page, SLOWER)
    if mobile:
        slow.send("Network.enable")
        slow.send("Network.emulateNetworkConditions", MOBILE)
    page.goto(base + path, wait_until="load")
    page.wait_for_timeout(300)  # the largest may still come
    taken = float(page.evaluate(PAINT))
    context.close()
    return taken


@comparison("contentful-paint")
def contentful_paint() -> Row:
    """Home on its first visit against a bare static page with the same text, a processor four times slower."""
    from tests.bench.against.bare_page import serve

    session = prepared()
    with served() as site, phone(site, session) as context:
        page = context.new_page()
        page.goto(f"/r/{RINK}/")
        bare = serve(page.inner_text("body"))
        sides = {
            "ours": (f"http://localhost:{site.port}", f"/r/{RINK}/"),
            "bare": (f"http://localhost:{bare.server_port}", "/"),
        }
        assert context.browser
        found: dict[tuple[str, bool], list[float]] = {}
        for turn in range(ROUNDS + 1):
            for mobile in (False, True):
                for side in ("ours", "bare") if turn % 2 else ("bare", "ours"):
                    taken = painted_ms(context.browser, *sides[side], session, mobile=mobile)
                    found.setdefault((side, mobile), []).append(taken)
        bare.shutdown()
    ours, plain = (median(found[side, True][1:]) for side in ("ours", "bare"))
    near = [median(found[side, False][1:]) for side in ("ours", "bare")]
    note = f"on a mobile connection; on a near one {near[0]:.0f} against {near[1]:.0f} ms"
    return at_most("contentful-paint", ours, plain, times=1.25, unit="ms", note=note)


@comparison("repeat-visit-requests")
def repeat_visit_requests() -> Row:
    """Requests that a second visit cannot do without: with no network at all the page and all it uses must be there."""
    session = prepared()
    with served() as site, phone(site, session) as context:
        page = context.new_page()
        page.goto(f"/r/{RINK}/")
        until(page, "navigator.serviceWorker.ready.then(() => !!navigator.serviceWorker.controller)")
        page.reload()
        until(page, AWAKE)  # what this visit still fetches must not be broken off, and counted, by the next
        failed: list[str] = []
        context.set_offline(True)
        page.on("requestfailed", lambda request: failed.append(request.url))
        page.goto(f"/r/{RINK}/")
        until(page, AWAKE)
        shown = page.locator("h1").inner_text() and page.evaluate("document.styleSheets.length > 0")
        page.wait_for_timeout(1000)
    needed = [url for url in failed if "/hello/" not in url]
    note = f"{', '.join(needed)}" or "opened without any network"
    return Row(
        "repeat-visit-requests",
        len(needed),
        0,
        "requests",
        len(needed),
        "none",
        bool(shown) and not needed,
        note,
    )


# Event Timing (W3C): from the finger to the next paint; what is below 16 ms is not told.
WATCH = """() => { self.slowest = 0; self.seen = 0;
  const note = one => { self.seen += 1; self.slowest = Math.max(self.slowest, one.duration); };
  new PerformanceObserver(list => list.getEntries().filter(one => one.interactionId).forEach(note))
    .observe({ type: 'event', durationThreshold: 16, buffered: true }); }"""


@comparison("map-interaction")
def map_interaction() -> Row:
    """Interaction to next paint on maps of 500 zones at a quarter of the speed: zones picked, details opened."""
    session = prepared(rows=25, columns=20)
    with served() as site, phone(site, session) as context:
        slowest = {
            "picking zones": interacted(context, f"/r/{RINK}/log/flood/", tap_zones),
            "the map": interacted(context, f"/r/{RINK}/map/?layer=hazards", tap_map),
        }
    note = ", ".join(f"{name} {taken:.0f} ms" for name, taken in slowest.items())
    return at_most("map-interaction", max(slowest.values()), 100, times=1, unit="ms", note=note)


def interacted(context: BrowserContext, path: str, taps: Any) -> float:
    """The slowest interaction [ms] of some taps on a page."""
    page = context.new_page()
    page.goto(path, wait_until="networkidle")
    slowed(page, SLOWER)
    page.evaluate(WATCH)
    taps(page)
    page.wait_for_timeout(600)
    taken, seen = page.evaluate("[self.slowest, self.seen]")
    page.close()
    return float(taken) if seen else 16.0


def tap_zones(page: Page) -> None:
    """Pick and unpick zones over the whole map, and everything at once."""
    cells = page.locator(".cell")
    assert cells.count() == 500, cells.count()
    for at in (0, 123, 250, 251, 499, 123):
        tap(cells.nth(at))
    tap(page.locator(".pick").first)


def tap_map(page: Page) -> None:
    """Tap on the drawing, on its table, and open what the markers mean."""
    assert page.locator(".map-zone").count() >= 500
    for place in ("svg.map", "table.zones"):
        tap(page.locator(place).first)
    for more in page.locator("summary").all():
        tap(more)


def tap(target: Locator) -> None:
    """Bring it to the middle of the screen, away from the bars, and tap it."""
    target.evaluate("one => one.scrollIntoView({ block: 'center' })")
    target.page.wait_for_timeout(200)
    box = target.bounding_box()
    assert box
    target.page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + min(box["height"], 400) / 2)
    target.page.wait_for_timeout(500)
