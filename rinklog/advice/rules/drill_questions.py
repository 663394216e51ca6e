"""Drill holes that seem impossible: asked about, kept, and not used until somebody answers."""

from rinklog.advice.items import Act, Item, Urgency
from rinklog.advice.said import count, depth, say, text
from rinklog.advice.situation import Situation


def items(now: Situation) -> list[Item]:
    """One item: the latest question, and how many more wait."""
    if not now.questions:
        return []
    asked, others = now.questions[0], len(now.questions) - 1
    why = [say("question.expected", expected=depth(asked.expected_m))]
    if others:
        why.append(say("question.more", others=count(others)))
    return [
        Item(
            f"question-{asked.entry_id}",
            Urgency.SOON,
            say("question.asked", zone=text(asked.zone), measured=depth(asked.measured_m)),
            tuple(why),
            "the ice estimate",
            Act("open-entry", "entry", {"id": asked.entry_id}),
        )
    ]
