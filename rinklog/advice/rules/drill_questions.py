"""A drill hole that seems impossible: asked about, kept, and not used until somebody answers."""

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import depth, say, text
from rinklog.advice.situation import Situation


def items(now: Situation) -> list[Item]:
    """One item a question."""
    return [
        Item(
            f"question-{asked.entry_id}",
            Urgency.SOON,
            say("question.asked", zone=text(asked.zone), measured=depth(asked.measured_m)),
            (say("question.expected", expected=depth(asked.expected_m)),),
            "the ice estimate",
            Act("open-entry", "entry", {"id": asked.entry_id}),
        )
        for asked in now.questions
    ]
