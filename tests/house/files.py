"""The project's own files, as the house rules see them."""

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
Function = ast.FunctionDef | ast.AsyncFunctionDef


@cache
def every_file() -> tuple[str, ...]:
    """Every file that belongs to the project: what git tracks and what it would track."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.splitlines()
    return tuple(sorted(name for name in listed if (ROOT / name).is_file()))


def files(suffix: str, *folders: str, without: tuple[str, ...] = ()) -> list[str]:
    """The files with a suffix under some folders, leaving out those with a part of `without` in their path."""
    return [
        name
        for name in every_file()
        if name.endswith(suffix)
        and (not folders or name.startswith(tuple(f"{folder}/" for folder in folders)))
        and not any(part in name for part in without)
    ]


def text(name: str) -> str:
    """A file's text."""
    return (ROOT / name).read_text(encoding="utf-8")


@cache
def tree(name: str) -> ast.Module:
    """A Python file's syntax tree."""
    return ast.parse(text(name), name)


def functions(name: str) -> Iterator[Function]:
    """Every function of a file, methods too."""
    return (node for node in ast.walk(tree(name)) if isinstance(node, Function))
