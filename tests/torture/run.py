"""One torture run from start to verdict: `python -m tests.torture --entries N …`, or `manage.py torture`."""

import asyncio
import contextlib
import datetime as dt
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from playwright.async_api import async_playwright

from tests.torture.deeds import LOGINS, Deed, make_deeds
from tests.torture.fates import AGAIN_S, Fates
from tests.torture.ledger import Verdict, judge, known_before, photos_waiting
from tests.torture.phone import Phone
from tests.torture.proxy import Proxy
from tests.torture.site import TorturedSite

DEAD_EVERY_S, DEAD_FOR_S = (8.0, 25.0), (1.0, 6.0)
PASSWORD = "thin coats freeze fast"  # the demo's, which everybody knows
SETTLE_S = 600.0


@dataclass(frozen=True)
class Plan:
    """How much of everything."""

    entries: int
    photos: int
    phones: int
    kills: int
    seed: int
    minutes: float


@dataclass
class Report:
    """What happened, and what the site holds after it."""

    plan: Plan
    verdict: Verdict
    fates: dict[str, int]
    phones: dict[str, int]
    kills: int
    left: list[str]
    waited_at_the_end: int
    took_s: float

    @property
    def holds(self) -> bool:
        """Whether nothing was lost, doubled or altered, and the run did what it promised."""
        return self.verdict.faultless and not self.left and self.kills == self.plan.kills


class Torture:
    """The run itself."""

    def __init__(self, plan: Plan, folder: Path) -> None:
        self.plan, self.folder = plan, folder
        self.fates = Fates(plan.seed)
        self.site = TorturedSite(folder / "site")
        self.written, self.restarts, self.began = 0, 0, time.monotonic()
        self.step = plan.entries / (plan.kills + 1)
        self.phones: list[Phone] = []

    @property
    def database(self) -> Path:
        """The site's database file."""
        return self.site.folder / "rinklog.sqlite3"

    def progress(self, words: str) -> None:
        """Say on stderr how far it is: a thousand entries take a while."""
        print(f"rinklog: {time.monotonic() - self.began:5.0f} s  {words}", file=sys.stderr, flush=True)

    async def run(self) -> Report:
        """Everything, and always an end of every process."""
        upstream = await self.site.start("--demo")
        self.progress("the site is up")
        proxy = Proxy(self.fates, self.site.certificate, self.site.key)
        proxy.upstream = upstream
        await proxy.start()
        try:
            async with async_playwright() as playwright:
                before = known_before(self.database)
                self.phones = [
                    self._phone(playwright, number, proxy.port) for number in range(self.plan.phones)
                ]
                deeds = self._deeds()
                await self._write_all(proxy, deeds)
                waited = sum([len(await phone.waiting_safely()) for phone in self.phones])
                left = await self._settle()
                await asyncio.gather(*(phone.switch_off() for phone in self.phones))
            await self.site.stop()
            verdict = judge(self.database, self.site.folder / "media", deeds, before)
        finally:
            await proxy.stop()
            await self.site.stop()
        tallies = sum((phone.tally for phone in self.phones), Counter[str]())
        return Report(
            self.plan,
            verdict,
            dict(self.fates.counted),
            dict(tallies),
            self.site.kills,
            left,
            waited,
            time.monotonic() - self.began,
        )

    def _phone(self, playwright: object, number: int, port: int) -> Phone:
        base = f"https://localhost:{port}"
        profile = self.folder / f"phone-{number}"
        return Phone(playwright, LOGINS[number], PASSWORD, base, self.site.pin(), profile, self.plan.seed)  # type: ignore[arg-type]

    def _deeds(self) -> list[Deed]:
        plan = self.plan
        return make_deeds(
            entries=plan.entries, photos=plan.photos, phones=plan.phones, seed=plan.seed,
            now=dt.datetime.now(dt.UTC), folder=self.folder,
        )  # fmt: skip

    async def _write_all(self, proxy: Proxy, deeds: list[Deed]) -> None:
        """Sign in in calm; then the storm, until everything is written."""
        for phone in self.phones:
            await phone.switch_on()
            await phone.sign_in()
        self.progress("everybody is signed in")
        self.fates.storm = True
        weather = asyncio.create_task(self._weather(proxy))
        async with asyncio.TaskGroup() as hands:
            hands.create_task(self._kill_at_times(proxy))
            for phone in self.phones:
                hands.create_task(self._hand(phone, deeds))
        weather.cancel()
        proxy.dead = self.fates.storm = False
        self.progress("the signal is back")

    async def _hand(self, phone: Phone, deeds: list[Deed]) -> None:
        for deed in deeds:
            if deed.login == phone.login:
                while self.written > (self.restarts + 1.6) * self.step:  # no kill may fall behind the writing
                    await asyncio.sleep(0.2)
                await phone.write(deed)
                self.written += 1
                if self.written % (self.plan.entries // 10 or 1) == 0:
                    self.progress(f"{self.written} of {self.plan.entries} written")

    async def _weather(self, proxy: Proxy) -> None:
        """Dead spots: for seconds nothing gets through."""
        while True:
            await asyncio.sleep(self.fates.between(DEAD_EVERY_S))
            proxy.dead = True
            await asyncio.sleep(self.fates.between(DEAD_FOR_S))
            proxy.dead = False

    async def _kill_at_times(self, proxy: Proxy) -> None:
        """Kill the site at even steps of the work, and start it again a moment later."""
        for kill in range(1, self.plan.kills + 1):
            while self.written < int(kill * self.step):
                await asyncio.sleep(0.1)
            await self.site.kill()
            await asyncio.sleep(self.fates.between((0.2, 3.0)))
            proxy.upstream = await self.site.start()
            self.restarts = kill

    async def _settle(self) -> list[str]:
        """In calm: let every phone send what waits, late copies arrive, and the worker prepare the photos."""
        left: list[str] = []
        until = time.monotonic() + SETTLE_S
        for phone in self.phones:
            while not await phone.empty() and time.monotonic() < until:
                pass
            with contextlib.suppress(Exception):
                left += [f"{phone.login}: {item}" for item in await phone.waiting()]
        self.progress("nothing waits on the phones any more")
        await asyncio.sleep(AGAIN_S[1] + 1)
        while photos_waiting(self.database) and time.monotonic() < until:
            await asyncio.sleep(0.5)
        return left


async def torture(plan: Plan) -> Report:
    """Run within the minutes allowed, in a folder that is thrown away."""
    with tempfile.TemporaryDirectory(prefix="rinklog-torture-", ignore_cleanup_errors=True) as folder:
        async with asyncio.timeout(plan.minutes * 60):
            return await Torture(plan, Path(folder)).run()
