"""Reading signs. Nothing here writes."""

import re
from uuid import UUID

from rinklog.rink.models import BucketTest, Rink, Sign


def signs(rink: Rink, kind: str = "") -> list[Sign]:
    """The signs of a rink that stand, by kind and place in reading order."""
    rows = Sign.objects.filter(rink=rink, retired_at=None)
    return sorted(rows.filter(kind=kind) if kind else rows, key=in_order)


def in_order(sign: Sign) -> tuple[int, list[tuple[int, str, int]]]:
    """Cone 10 after cone 9, zone AA1 after Z1."""
    parts = re.findall(r"(\d+)|([^\d]+)", sign.place)
    order = [Sign.Kind.ZONE, Sign.Kind.POST, Sign.Kind.HOSE, Sign.Kind.CONE]
    return order.index(Sign.Kind(sign.kind)), [(len(text), text, int(number or 0)) for number, text in parts]


def sign(rink: Rink, id: UUID) -> Sign | None:
    """One sign of a rink, retired or not."""
    return Sign.objects.filter(rink=rink, id=id).first()


def sign_of_code(code: str) -> Sign | None:
    """The sign with a code, retired or not, however the code was typed."""
    return Sign.objects.select_related("rink").filter(code=code.strip().upper()).first()


def flow_of_hose(rink: Rink, hose: str) -> float | None:
    """The flow of a hose by its latest bucket test [l/s]."""
    test = BucketTest.objects.filter(rink=rink, hose=hose).first()
    return test.flow_ls if test else None


def flows_of_hoses(rink: Rink) -> dict[str, float]:
    """The flow of every named hose by its latest bucket test [l/s]."""
    tests = BucketTest.objects.filter(rink=rink).exclude(hose="")
    return {test.hose: test.flow_ls for test in reversed(tests)}
