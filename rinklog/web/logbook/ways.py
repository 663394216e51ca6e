"""Work as it is written on paper, in one word or two: a kind and how it was done, so that one choice says both."""

from rinklog.work.kinds import KINDS
from rinklog.work.kinds.base import Choice

# Kinds that a line of paper can hold, and the detail that a line must say. The others have forms of their own.
HOW = {"flood": "tool", "snow-removal": "tools", "patch": "method"}
TAKES_WATER = tuple(kind for kind in HOW if KINDS[kind].takes_water)


def ways() -> list[tuple[str, str]]:
    """Every way with its words: ("flood:hose", "Flood, hose")."""
    return [
        (f"{kind}:{key}", f"{KINDS[kind].title}, {words}")
        for kind, detail in HOW.items()
        for key, words in choices_of(kind, detail).items()
    ]


def choices_of(kind: str, detail: str) -> dict[str, str]:
    """The choices of a detail."""
    found = KINDS[kind].details[detail]
    assert isinstance(found, Choice)
    return {key: str(words) for key, words in found.choices.items()}


def details_of(way: str) -> tuple[str, dict[str, object]]:
    """The kind and its details that a way stands for."""
    kind, _colon, how = way.partition(":")
    detail = KINDS[kind].details[HOW[kind]]
    chosen: object = [how] if isinstance(detail, Choice) and detail.many else how
    # The paper has no column for it; the page says that cold water is taken.
    more = {"by": "amount", "water": "cold"} if kind == "flood" else {}
    return kind, {HOW[kind]: chosen, **more}
