"""The rink's own words for condition and checklists."""

import pytest
from django.test import Client

from rinklog.records.models import ChecklistItem, ConditionGrade
from rinklog.records.queries import Grade, checklist, grades
from tests.support.cast import Cast

GOOD = {
    "grades": "good: flat",
    "walk": "Ice\nBoards",
    "site": "Fall",
    "boards": "Braces",
    "after": "Ruts",
    "machines": "Hose",
}


@pytest.fixture
def ada(cast: Cast, client: Client) -> Client:
    client.force_login(cast.ada)
    return client


def page(cast: Cast) -> str:
    return f"/r/{cast.rink.slug}/records/words/"


def test_a_new_rink_starts_with_the_published_grades(cast: Cast) -> None:
    # practice.md §3, condition: excellent under 10 % flawed, no snow, 10 cm; good 10-50 %; fair over 50 % or snow (NAP).
    found = {grade.word: grade.criterion for grade in grades(cast.rink)}
    assert list(found) == ["excellent", "good", "fair", "poor", "no ice to skate on"]
    assert "less than 10 %" in found["excellent"]
    assert "no snow" in found["excellent"]
    assert "10 cm" in found["excellent"]
    assert "10 to 50 %" in found["good"]
    assert "more than 50 %" in found["fair"]
    assert "or snow" in found["fair"]
    assert "safe" not in " ".join(found.values())


def test_the_keepers_words_are_in_force_and_what_was_taken_out_is_retired(ada: Client, cast: Cast) -> None:
    assert ada.post(page(cast), GOOD).status_code == 302
    assert ada.post(page(cast), GOOD | {"walk": "Boards\nLights", "grades": "fine: flat"}).status_code == 302
    assert checklist(cast.rink, "walk") == ["Boards", "Lights"]
    assert grades(cast.rink) == [Grade("fine", "flat")]
    assert ChecklistItem.objects.get(list="walk", text="Ice").retired
    assert ConditionGrade.objects.get(word="good").retired
    assert ada.post(page(cast), GOOD).status_code == 302
    assert checklist(cast.rink, "walk") == ["Ice", "Boards"]
    assert ChecklistItem.objects.filter(list="walk", text="Ice").count() == 1
    # The other rink keeps its own.
    assert len(checklist(cast.other_rink, "walk")) == 10


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"walk": " "}, "has 0 lines; allowed are 1 to 60."),
        ({"walk": "\n".join(f"line {n}" for n in range(61))}, "has 61 lines; allowed are 1 to 60."),
        ({"walk": "x" * 201}, "has 201 letters; allowed are 200."),
        ({"grades": "good"}, "Condition grades: “good”; allowed is a word"),
        ({"grades": "good: flat\ngood: again"}, "Condition grades: “good: again”"),
        ({"grades": "g" * 41 + ": flat"}, "at most 40 letters"),
    ],
)
def test_what_cannot_be_kept_gets_a_sentence_and_changes_nothing(
    ada: Client, cast: Cast, changes: dict[str, str], sentence: str
) -> None:
    answer = ada.post(page(cast), GOOD | changes)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert ChecklistItem.objects.count() == 0
