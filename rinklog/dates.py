"""Days and moments as each language writes them."""

import datetime as dt

from django.utils import formats
from django.utils.translation import get_language


def written(value: dt.date, form: str) -> str:
    """A day or moment in the language of the moment. `form` is Django's date format, such as "D j M H:i".

    "M" gives the short name of a month with a capital, as only English wants it; the others get "N": « 3 févr. ».
    """
    return formats.date_format(value, form_of(form))


def form_of(form: str) -> str:
    """A date format as the language of the moment wants it; in Norwegian a day is an ordinal: « 3. feb. »."""
    language = get_language() or "en"
    if language.startswith("en"):
        return form
    return form.replace("M", "N").replace("j ", "j. " if language == "nb" else "j ")
