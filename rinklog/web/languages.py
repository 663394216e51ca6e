"""Which language somebody reads: their own choice once they are known, else what their browser asks for."""

from django.conf import settings
from django.utils.translation.trans_real import get_supported_language_variant, parse_accept_lang_header

LONGEST_HEADER = 500
# Browsers of Norwegians ask for "no" too (the macrolanguage of ISO 639-3), and readers of Nynorsk read Bokmål best.
READ_ALIKE = {"no": "nb", "nn": "nb"}


def wishes_of(accept_language: str) -> list[str]:
    """The languages a browser asks for, dearest first (RFC 9110, Accept-Language)."""
    header = accept_language.lower()[:LONGEST_HEADER]
    return [tag for tag, weight in parse_accept_lang_header(header) if weight > 0]


def language_of(wishes: list[str]) -> str:
    """The first wished language that this site speaks, else its own."""
    for wish in wishes:
        known = READ_ALIKE.get(wish.partition("-")[0], wish)
        try:
            return get_supported_language_variant(known)
        except LookupError:
            continue
    return settings.LANGUAGE_CODE


def language_for(person: object, accept_language: str) -> str:
    """The language of a person who is signed in; a stranger's by their browser."""
    chosen = getattr(person, "language", "")
    return chosen if chosen in dict(settings.LANGUAGES) else language_of(wishes_of(accept_language))
