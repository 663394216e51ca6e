"""A review is built once and read in several languages."""

import json

import pytest
from django.utils.translation import gettext, override

from rinklog.reports.review.told import again, stored, told

# As the catalogues say it: written here again, so that a catalogue that is not found is seen.
AGREE = {"en": "Meter and entries agree.", "fr": "Compteur et entrées concordent."}


@pytest.mark.parametrize("language", AGREE)
def test_a_stored_sentence_is_read_in_the_readers_language(language: str) -> None:
    with override("nb"):
        kept = json.loads(
            json.dumps([stored(told(lambda: gettext("Meter and entries agree."))), AGREE["en"]])
        )
    with override(language):
        assert [again(words, said=True) for words in kept] == [AGREE[language]] * 2


def test_what_somebody_typed_is_never_translated() -> None:
    with override("fr"):
        assert again(AGREE["en"], said=False) == AGREE["en"]
        assert again("", said=True) == ""
        assert again(3.5, said=True) == 3.5
