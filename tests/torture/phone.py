"""One phone: a Chromium with a profile of its own, in the hands of somebody who writes on and closes tabs at random."""

import asyncio
import contextlib
import random
from collections import Counter
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from playwright.async_api import BrowserContext, Error, Page, Playwright

from tests.support.browser import AWAKE, SWITCHES
from tests.torture.deeds import Deed

CLOSES, DIES = 0.2, 0.03  # how often the tab is closed, or the whole browser, while something is being saved
TRIES = 40
PATIENCE_S = 240.0
FILL = """deed => {
  const form = document.querySelector('#work-form');
  [...form.querySelectorAll('input[name=zones]')].forEach((box, at) => { box.checked = deed.zones.includes(at); });
  for (const [name, value] of Object.entries(deed.fields)) form.elements[name].value = value;
  for (const [name, value] of deed.chips)
    for (const box of form.querySelectorAll(`input[name="${name}"]`)) box.checked = box.value === value;
  const mine = document.querySelector('[data-outbox-words]').dataset.person;
  form.elements[`minutes-${mine}`].value = deed.minutes;
}"""
FATE = """async id => (await outboxStore.byId(id))?.state ?? ((await outboxStore.sentAs(id)) ? 'sent' : 'nowhere')"""
PHOTO_KEPT = """() => { const rows = [...document.querySelectorAll('[data-photo-sent] li')];
  const list = document.querySelector('[data-photo-sent]').dataset;
  return rows.length === 1 && [list.sent, list.waits].includes(rows[0].querySelector('span').textContent); }"""
READY = "async () => !!(await navigator.serviceWorker.ready).active && !!navigator.serviceWorker.controller"


class Phone:
    """Somebody's phone. `base` is the address behind the bad connection."""

    def __init__(
        self, playwright: Playwright, login: str, password: str, base: str, pin: str, folder: Path, seed: int
    ) -> None:
        self.playwright, self.login, self.password, self.base, self.pin = (
            playwright,
            login,
            password,
            base,
            pin,
        )
        self.folder, self.dice = folder, random.Random(f"{login} {seed}")
        self.tally: Counter[str] = Counter()
        self.rink = self.tapped = ""
        self.zone = ZoneInfo("UTC")
        self.context: BrowserContext
        self.page: Page

    async def switch_on(self) -> None:
        """Open the browser on this phone's profile."""
        self.context = await self.playwright.chromium.launch_persistent_context(
            str(self.folder),
            executable_path="/usr/bin/chromium",
            args=[*SWITCHES, f"--ignore-certificate-errors-spki-list={self.pin}"],
            base_url=self.base,
            viewport={"width": 390, "height": 780},
            has_touch=True,
        )
        self.context.set_default_timeout(30_000)
        self.page = await self.context.new_page()

    async def switch_off(self) -> None:
        """Close the browser."""
        with contextlib.suppress(Error):
            await self.context.close()

    async def sign_in(self) -> None:
        """Sign in and let the page settle, so that everything needed without a signal is on the phone."""
        await self.page.goto("/sign-in/")
        await self.page.fill("input[name=username]", self.login)
        await self.page.fill("input[name=password]", self.password)
        await self.page.click("main button[type=submit]")
        await self.page.wait_for_url("**/r/*/")
        self.rink = self.page.url.removeprefix(self.base).strip("/").split("/")[1]
        self.zone = ZoneInfo(
            await self.page.evaluate("document.querySelector('[data-outbox-words]').dataset.timeZone")
        )
        await self.until(READY)
        for kind in ("flood", "snow-removal"):
            await self.until(
                f"async () => !!(await (await caches.open('pages')).match('/r/{self.rink}/log/{kind}/'))"
            )

    async def until(self, asked: str, seconds: float = 90) -> None:
        """Wait until the page answers yes."""
        for _ in range(int(seconds * 4)):
            with contextlib.suppress(Error):
                if await self.page.evaluate(asked):
                    return
            await self.page.wait_for_timeout(250)
        raise AssertionError(f"{self.login}: never came true: {asked}")

    async def write(self, deed: Deed) -> None:
        """Write one entry until this phone has it, as a person does who looks whether it was kept."""
        self.tapped = ""
        for _ in range(TRIES):
            try:
                async with asyncio.timeout(PATIENCE_S):
                    # The page may have broken off after the tap: whoever looks first writes nothing twice.
                    if self.tapped and await self._fate_of(self.tapped) != "nowhere":
                        return
                    if await self._written(deed):
                        return
                self.tally["written again"] += 1
            except TimeoutError:
                self.tally["browsers that hung"] += 1
                await self._restart()
            except Error:
                self.tally["page would not open"] += 1
                await self._new_tab()
        raise AssertionError(f"{self.login}: no. {deed.n} could not be written in {TRIES} tries")

    async def _written(self, deed: Deed) -> bool:
        await self.page.goto(f"/r/{self.rink}/log/{deed.kind}/", wait_until="domcontentloaded")
        await self.page.evaluate(
            FILL, self._as_typed(deed)
        )  # as soon as it shows, whatever scripts are yet to come
        await self.until(AWAKE)
        id = str(await self.page.evaluate("document.querySelector('#work-form').elements.id.value"))
        if deed.photo:
            await self.page.set_input_files("input[name=photos][capture]", str(deed.photo))
            await self.until(PHOTO_KEPT, 200)
        self.tapped = id
        await self.page.tap(".save-bar button")
        if (
            deed.photo
        ):  # without the entry the photo would belong to nothing, so nobody lets go before it is kept
            await self.until(f"async () => await ({FATE})('{id}') !== 'nowhere'")
        if self.dice.random() < CLOSES:
            await self._let_go()
        else:
            await self.page.wait_for_url(lambda url: "/waiting/" in url or "/entry/" in url, timeout=60_000)
        return await self._fate_of(id) != "nowhere"

    def _as_typed(self, deed: Deed) -> dict[str, Any]:
        local = deed.started.astimezone(self.zone).strftime("%Y-%m-%dT%H:%M")
        fields = {"started": local, "ended": "", "note": deed.note}
        chips = [("tools", "shovel")]
        if deed.kind == "flood":
            fields["amount"], chips = str(deed.litres), [("by", "amount")]
        return {"zones": deed.zones, "fields": fields, "chips": chips, "minutes": str(deed.minutes)}

    async def _let_go(self) -> None:
        """Close the tab, now or in a moment; now and then the whole phone goes dead."""
        await self.page.wait_for_timeout(self.dice.choice((0, 0, 5, 30, 150, 800, 2500)))
        if self.dice.random() < DIES / CLOSES:
            self.tally["browsers closed"] += 1
            await self._restart()
        else:
            self.tally["tabs closed"] += 1
            await self._new_tab()

    async def _restart(self) -> None:
        async with asyncio.timeout(PATIENCE_S):
            await self.switch_off()
            await self.switch_on()

    async def _new_tab(self) -> None:
        with contextlib.suppress(Error):
            await self.page.close()
        self.page = await self.context.new_page()

    async def _fate_of(self, id: str) -> str:
        for _ in range(TRIES):
            try:
                if "/r/" not in self.page.url:
                    await self.page.goto(f"/r/{self.rink}/waiting/", wait_until="domcontentloaded")
                return str(await self.page.evaluate(FATE, id))
            except Error:
                self.tally["page would not open"] += 1
                await self._new_tab()
        raise AssertionError(f"{self.login}: could not look what became of {id}")

    async def empty(self) -> bool:
        """Whether nothing waits on this phone any more; opens the rink page, which sends."""
        with contextlib.suppress(Error):
            await self.page.goto(f"/r/{self.rink}/", wait_until="domcontentloaded")
            for _ in range(40):
                if not await self.waiting():
                    return True
                await self.page.wait_for_timeout(250)
        return False

    async def waiting(self) -> list[Any]:
        """What waits: state and address of each."""
        found: list[Any] = await self.page.evaluate(
            "async () => (await outboxStore.all()).map(one => [one.state, one.url, one.sentences])"
        )
        return found

    async def waiting_safely(self) -> list[Any]:
        """The same, or nothing while the page is changing."""
        with contextlib.suppress(Error):
            return await self.waiting()
        return []
