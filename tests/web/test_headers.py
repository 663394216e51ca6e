"""What every page says to the browser: nothing inline but our own sheets, nothing framed, nothing from elsewhere."""

import re
from base64 import b64encode
from hashlib import sha256

import pytest
from django.test import Client

from rinklog.crew.rights import Right
from tests.support.cast import Cast
from tests.web.test_who_may import address
from tests.web.who_may_table import TABLE

PAGES = [name for name, row in TABLE.items() if row.get == 200]
# Read in the HTML itself: a script without src, an on… handler, a style attribute.
INLINE = re.compile(r"<script(?![^>]*\bsrc=)[^>]*>|\son[a-z]+\s*=\s*[\"']|\sstyle\s*=\s*[\"']", re.I)
SHEET = re.compile(r"<style>(.*?)</style>", re.S)


@pytest.mark.parametrize("name", PAGES)
def test_no_page_has_inline_script_or_style_and_each_has_its_headers(name: str, cast: Cast) -> None:
    client = Client()
    client.force_login(cast.ada)
    answer = client.get(address(name, TABLE[name], cast))
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe-inline" not in policy
    assert answer.headers["X-Frame-Options"] == "DENY"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    # A link that is itself the key must not travel on in a referrer.
    wanted = "no-referrer" if name.startswith("shared-") else "same-origin"
    assert answer.headers["Referrer-Policy"] == wanted
    assert answer.headers["Cross-Origin-Opener-Policy"] == "same-origin"
    if answer.headers["Content-Type"].startswith("text/html"):
        html = answer.content.decode()
        assert not INLINE.findall(html)
        carried = [hash_source(text) for text in SHEET.findall(html)]
        assert carried == allowed(policy)
        assert html.count("<style") == len(carried)
        assert carried or "<html" not in html  # a part of a page has none


def hash_source(text: str) -> str:
    """CSP Level 3, hash-source: the digest in base64, by a way of its own."""
    return f"'sha256-{b64encode(bytes.fromhex(sha256(text.encode()).hexdigest())).decode()}'"


def allowed(policy: str) -> list[str]:
    """The sources of style beside our own files."""
    styles = next(part.split()[1:] for part in policy.split(";") if part.split()[0] == "style-src")
    assert styles[0] == "'self'"
    return styles[1:]


def test_the_table_has_pages_enough_to_mean_something() -> None:
    assert sum(TABLE[name].needs in list(Right) for name in PAGES) > 20
