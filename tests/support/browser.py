"""A headless Chromium as a phone or a desktop, in light or dark; what the page complained of fails the test."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, sync_playwright

SWITCHES = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
DEVICES: dict[str, dict[str, Any]] = {
    # 360 px is the narrowest phone we promise; Pixel 7 is 412.
    "phone": {
        "viewport": {"width": 360, "height": 780},
        "is_mobile": True,
        "has_touch": True,
        "device_scale_factor": 2,
    },
    "desktop": {"viewport": {"width": 1280, "height": 900}},
}
# What htmx itself says of a 4xx, and of a request that found no network.
HTMX_NOTES = ("Response Status Error Code", "htmx:sendError", "htmx:afterRequest")
# A page whose scripts are yet to come shows nothing in tests: a click then waits for them, as a person's finger does.
ASLEEP = """const rule = new CSSStyleSheet();
rule.replaceSync("html[data-asleep] body { visibility: hidden }");
document.adoptedStyleSheets.push(rule);"""
AWAKE = "() => !('asleep' in document.documentElement.dataset)"
SHOTS = Path(__file__).resolve().parents[2] / ".shots"

OpenPage = Callable[..., Page]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for the whole run."""
    program = shutil.which("chromium")
    if not program:
        pytest.fail(
            "chromium is missing; install with:  sudo apt-get install -y --no-install-recommends chromium"
        )
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=program, args=SWITCHES)
        yield opened
        opened.close()


@pytest.fixture
def open_page(browser: Browser) -> Iterator[OpenPage]:
    """Call it for a page: open_page("phone", theme="dark", base_url=…, javascript=False, person=…).

    With `person` the page is signed in, by a session made beside the door.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def opened(
        device: str = "phone",
        *,
        theme: str = "light",
        base_url: str | None = None,
        javascript: bool = True,
        person: Any = None,
        **more: Any,
    ) -> Page:
        options = {
            **DEVICES[device],
            "base_url": base_url,
            "color_scheme": theme,
            "java_script_enabled": javascript,
            # A worker fetches by itself; where it is not the subject it would only disturb.
            "service_workers": "block",
        }
        context = browser.new_context(**{**options, "ignore_https_errors": True, **more})
        contexts.append(context)
        context.set_default_timeout(10_000)
        if javascript:
            context.add_init_script(ASLEEP)
            context.on("page", patient)
        if person is not None:
            assert base_url, "signing in needs base_url"
            context.add_cookies([session_cookie(person, base_url)])
        page = context.new_page()
        page.on("console", lambda message: complaints.extend(complaint(message)))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not complaints, f"the page complained: {complaints}"


def patient(page: Page) -> None:
    """Make a page's own ways of opening wait until its scripts are there."""
    for name in ("goto", "reload", "go_back"):
        setattr(page, name, awaited(page, getattr(page, name)))


def awaited(page: Page, opening: Callable[..., Any]) -> Callable[..., Any]:
    """An opening that returns with the page awake."""

    def opened(*words: Any, **more: Any) -> Any:
        answer = opening(*words, **more)
        page.wait_for_function(AWAKE)
        return answer

    return opened


def complaint(message: ConsoleMessage) -> list[str]:
    """Errors and broken content policy; a 404 or 422 that a test provokes is no complaint."""
    if message.type != "error" or message.text.startswith("Failed to load resource"):
        return []
    if any(note in message.text for note in HTMX_NOTES):
        return []
    return [message.text]


def session_cookie(person: Any, base_url: str) -> Any:
    """A cookie that signs a person in."""
    from django.conf import settings
    from django.test import Client

    client = Client()
    client.force_login(person)
    return {
        "name": settings.SESSION_COOKIE_NAME,
        "value": client.cookies[settings.SESSION_COOKIE_NAME].value,
        "url": base_url,
    }


@pytest.fixture
def shot() -> Callable[[Page, str], Path]:
    """Call it to keep a picture of the whole page in .shots/, out of git."""

    def kept(page: Page, name: str) -> Path:
        SHOTS.mkdir(exist_ok=True)
        path = SHOTS / f"{name}.png"
        page.screenshot(path=str(path), full_page=True)
        return path

    return kept
