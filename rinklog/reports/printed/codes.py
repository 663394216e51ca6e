"""The square code of a sign: QR (ISO/IEC 18004) at error correction H, which restores about 30 % of its words."""

from dataclasses import dataclass

import segno

QUIET = 4  # modules of white around it (ISO/IEC 18004)


@dataclass(frozen=True)
class Code:
    """Modules by row, True is black, without the white border."""

    modules: tuple[tuple[bool, ...], ...]
    correction: str

    @property
    def size(self) -> int:
        """Modules a side, with the white border."""
        return len(self.modules) + 2 * QUIET

    def runs(self) -> list[tuple[int, int, int]]:
        """Black runs as (column, row, length), with the border counted."""
        found = []
        for y, row in enumerate(self.modules):
            start = None
            for x, black in enumerate([*row, False]):
                if black and start is None:
                    start = x
                elif not black and start is not None:
                    found.append((start + QUIET, y + QUIET, x - start))
                    start = None
        return found

    @property
    def path(self) -> str:
        """The black modules as the `d` of an SVG path, one unit a module."""
        return "".join(f"M{x} {y}h{length}v1h-{length}z" for x, y, length in self.runs())


def code_of(text: str) -> Code:
    """The code that reads as `text`. Errors: segno.DataOverflowError for a text that no code can hold."""
    made = segno.make(text, error="h", micro=False, boost_error=False)
    modules = tuple(tuple(bool(module) for module in row) for row in made.matrix)
    return Code(modules, str(made.error))
