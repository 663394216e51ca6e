"""How heavy our own JavaScript is: the issue allows 25 kB, packed with gzip, for all of it together."""

import gzip

from tests.house.files import files, text

ALLOWED = 25_000


def test_all_our_scripts_together_weigh_less_than_25_kb_packed() -> None:
    scripts = files(".js", "static", "templates")
    assert len(scripts) > 10
    # Each file by itself, as it travels: together they would pack smaller.
    packed = {name: len(gzip.compress(text(name).encode(), 9)) for name in scripts}
    assert sum(packed.values()) < ALLOWED, packed
