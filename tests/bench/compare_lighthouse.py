"""Lighthouse with its mobile throttling, and axe-core beside it, on the demo: home, flood form, map and public page.

Lighthouse is no package of ours: where `npx` can fetch it the row is measured, else it says that it is missing.
"""

import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from statistics import median
from typing import Any

from tests.bench.measure import Row, comparison, missing
from tests.bench.one import database

LIGHTHOUSE = "lighthouse@12.2.3"
RUNS = 3
TRIES = 2  # a run may find no start of the navigation (its own NO_NAVSTART); it has no scores then
LEAST = {"performance": 99, "accessibility": 100, "best-practices": 100}
FLAGS = "--chrome-flags=--headless=new --no-sandbox --disable-gpu"


@comparison("lighthouse")
def lighthouse() -> Row:
    """The worst score of any page; every score and every axe violation stands in the note."""
    if not shutil.which("npx"):
        return missing("lighthouse", "npx is not here (Node); it fetches Lighthouse")
    database()
    from rinklog.archive.demo.people import PASSWORD
    from tests.support.site import Site

    with tempfile.TemporaryDirectory() as folder:
        site = Site(Path(folder) / "site", "--demo").wait_until_healthy(300)
        try:
            paths, cookie, axe = looked_at(site, PASSWORD)
            scores = {name: usual(site.port, path, cookie, Path(folder)) for name, path in paths.items()}
        finally:
            site.stop()
    faults = [
        f"{name} {what} {found[what]} of {least}"
        for name, found in scores.items()
        for what, least in wanted(name).items()
        if found[what] < least
    ]
    words = [f"{name} {found['performance']}/{found['accessibility']}/{found['best-practices']}/{found['seo']}"
             for name, found in scores.items()]  # fmt: skip
    worst = min(found[what] - least for name, found in scores.items() for what, least in wanted(name).items())
    note = "; ".join(["performance/accessibility/best practices/SEO: " + ", ".join(words), *faults, *axe])
    holds = not faults and not axe
    return Row("lighthouse", 100 + worst, 100, "points", (100 + worst) / 100, "none short", holds, note)


def wanted(page: str) -> dict[str, int]:
    """The least score of each kind; only the public page may be found by search engines."""
    return LEAST | ({"seo": 100} if page == "public" else {})


def looked_at(site: Any, password: str) -> tuple[dict[str, str], str, list[str]]:
    """The four paths, the keeper's cookies, and what axe-core has against any of the pages."""
    from axe_playwright_python.sync_playwright import Axe
    from playwright.sync_api import sync_playwright

    from tests.bench.compare_visit import sign_in
    from tests.support.browser import DEVICES, SWITCHES

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=SWITCHES)
        base = f"http://localhost:{site.port}"
        context = browser.new_context(**DEVICES["phone"], base_url=base, bypass_csp=True)
        home = sign_in(context, password).removeprefix(base)
        public = f"/p/{home.split('/')[2]}/"
        paths = {"home": home, "flood": f"{home}log/flood/", "map": f"{home}map/", "public": public}
        page, against = context.new_page(), []
        for name, path in paths.items():
            page.goto(path)
            against += [f"axe on {name}: {one['id']}" for one in Axe().run(page).response["violations"]]
        cookie = "; ".join(f"{one['name']}={one['value']}" for one in context.cookies())
        browser.close()
    return paths, cookie, against


def usual(port: int, path: str, cookie: str, folder: Path) -> dict[str, int]:
    """The median score of some runs: a single one swings by some points, as Lighthouse's docs say (variability.md)."""
    runs = [scored(port, path, cookie, folder) for _ in range(RUNS)]
    return {key: int(median(run[key] for run in runs)) for key in runs[0]}


def scored(port: int, path: str, cookie: str, folder: Path) -> dict[str, int]:
    """Lighthouse's scores of one page, in points of a hundred."""
    headers = folder / "headers.json"
    headers.write_text(json.dumps({"Cookie": cookie}))
    command = ["npx", "--yes", LIGHTHOUSE, f"http://localhost:{port}{path}", "--quiet", "--output=json"]
    environ = {**os.environ, "CHROME_PATH": "/usr/bin/chromium"}
    for _ in range(TRIES):
        ended = subprocess.run(
            [*command, f"--extra-headers={headers}", FLAGS],
            env=environ,
            capture_output=True,
            text=True,
            timeout=240,
        )
        if ended.returncode == 0:
            break
    assert ended.returncode == 0, ended.stderr[-300:]
    return {key: round(100 * one["score"]) for key, one in json.loads(ended.stdout)["categories"].items()}
