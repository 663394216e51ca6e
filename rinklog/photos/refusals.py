"""Why a picture cannot be used: a code in the database, a sentence for a person."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

MOST_BYTES = 25_000_000
MOST_PIXELS = 64_000_000

SENTENCES: dict[str, str | Promise] = {
    "empty": _("The photo is empty: 0 bytes arrived. Take or pick it again."),
    "too-large": _(
        "The photo is larger than 25 MB; allowed is up to 25 MB. Pick a smaller size in the camera."
    ),
    "too-many-pixels": _("The photo has more than 64 megapixels; allowed is up to 64. Pick a smaller size."),
    "heic": _(
        "This is a HEIC picture, which cannot be read here. Set the phone's camera to JPEG "
        "(“most compatible”), or share the photo as JPEG."
    ),
    "not-a-picture": _("This file is not a picture that can be read; allowed are JPEG, PNG, WebP and GIF."),
    "truncated": _("The photo is cut off: part of the file is missing. Send it again from the phone."),
    "broken": _("The photo is damaged and cannot be shown. Send it again from the phone, or take another."),
    "lost": _("The photo's file is gone from the server. Send it again from the phone."),
    "gave-up": _("The photo could not be prepared after several tries. Send it in a smaller size."),
}


class Unusable(Exception):
    """A picture that cannot be used, with the code of the reason."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code

    @property
    def sentence(self) -> str | Promise:
        """The reason for a person."""
        return SENTENCES[self.code]
