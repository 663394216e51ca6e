"""Sentences of a review that is built once and read in several languages.

A review is built in English. What has no numbers in it is looked up again by its English words; what has is worded in
every language at once, here.
"""

from collections.abc import Callable, Mapping

from django.conf import settings
from django.utils.translation import get_language, gettext, override

BUILT_IN = "en"


class Told(str):
    """English words that know themselves in every language."""

    texts: dict[str, str]

    def __new__(cls, texts: Mapping[str, str]) -> "Told":
        """Take the words of each language by its code."""
        made = super().__new__(cls, texts[BUILT_IN])
        made.texts = dict(texts)
        return made


def told(say: Callable[[], str]) -> Told:
    """What `say` says in every language of the site."""
    texts = {}
    for code, _name in settings.LANGUAGES:
        with override(code):
            texts[code] = say()
    return Told(texts)


def stored(words: object) -> object:
    """Words as JSON keeps them."""
    return {"told": words.texts} if isinstance(words, Told) else words


def again(kept: object, *, said: bool) -> object:
    """Stored words in the reader's language; `said`: they are a sentence of ours and not what somebody typed."""
    if isinstance(kept, dict):
        texts = kept["told"]
        return texts.get(get_language(), texts[BUILT_IN])
    return gettext(kept) if said and isinstance(kept, str) and kept else kept
