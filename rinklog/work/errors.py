"""What services raise. Each carries the field it is about, and a sentence for a person."""

from typing import Any


class Refused(Exception):
    """The content cannot be recorded as it is; nothing was written."""

    def __init__(self, field: str, sentence: Any) -> None:
        super().__init__(str(sentence))
        self.field = field
        self.sentence = sentence


class Conflict(Exception):
    """Something else is already recorded here; neither text is lost."""

    def __init__(self, existing: Any) -> None:
        super().__init__("conflict")
        self.existing = existing
