"""Rows for breakages.py, one file a room: each has a list `ROWS`, which is found by itself."""

import importlib
import pkgutil
from typing import NamedTuple


class Breakage(NamedTuple):
    """One way to break the program, and who must notice."""

    file: str
    was: str
    broken: str
    test: str


def gathered() -> list[Breakage]:
    """The rows of every file in this folder."""
    modules = (importlib.import_module(f"{__name__}.{one.name}") for one in pkgutil.iter_modules(__path__))
    return [row for module in modules for row in module.ROWS]
