"""Where things are, how large they grow, and what they are called."""

import ast
import re

import pytest

from tests.house.files import every_file, files, functions, text, tree

AGREED = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "manage.py",
    "pyproject.toml",
    "requirements.txt",
    "rinklog",
    "templates",
    "static",
    "tests",
    "fixtures",
}
LONGEST_FILE = 400
LONGEST_FUNCTION = 60
PYTHON = files(".py", without=("/migrations/",))
OURS = files(".py", "rinklog", without=("/migrations/",))


def test_the_top_level_holds_the_agreed_names_and_nothing_else() -> None:
    found = {name.split("/")[0] for name in every_file()}
    assert {name for name in found if not name.startswith(".")} - AGREED == set()
    assert AGREED - found <= {"fixtures"}


@pytest.mark.parametrize("name", PYTHON)
def test_no_file_outgrows_a_readers_patience(name: str) -> None:
    assert len(text(name).splitlines()) <= LONGEST_FILE


def test_no_function_outgrows_a_screen() -> None:
    long = {
        f"{name}:{function.lineno} {function.name}"
        for name in PYTHON
        for function in functions(name)
        if (function.end_lineno or 0) - function.lineno + 1 > LONGEST_FUNCTION
    }
    assert long == set()


def test_every_module_class_and_public_function_says_what_it_is_for() -> None:
    mute = {
        f"{name}:{node.lineno} {label(node)}" for name in OURS for node in speakers(name) if not said(node)
    }
    assert mute == set()


def speakers(name: str) -> list[ast.FunctionDef | ast.ClassDef]:
    """The classes and public functions of a module, without what is inside them."""
    found = [node for node in tree(name).body if isinstance(node, ast.FunctionDef | ast.ClassDef)]
    return [node for node in found if not node.name.startswith("_") and node.name != "Command"]


def said(node: ast.FunctionDef | ast.ClassDef) -> bool:
    """Whether it has a docstring."""
    return bool(ast.get_docstring(node))


def label(node: ast.FunctionDef | ast.ClassDef) -> str:
    """Its name."""
    return node.name


def test_migrations_are_named_by_hand() -> None:
    names = [name.rpartition("/")[2] for name in files(".py", "rinklog") if "/migrations/0" in name]
    assert names
    unnamed = [
        name for name in names if re.search(r"_auto_|_initial\.py$|^\d{4}_(alter|rename|remove)_", name)
    ]
    assert unnamed == []


def test_tests_are_sentences() -> None:
    short = {
        f"{name}: {function.name}"
        for name in files(".py", "tests")
        for function in functions(name)
        if function.name.startswith("test_") and function.name.count("_") < 3
    }
    assert short == set()


def test_test_files_are_named_after_a_deed() -> None:
    odd = [
        name
        for name in files(".py", "tests")
        if any(function.name.startswith("test_") for function in functions(name))
        and not re.fullmatch(r"tests/[a-z_/]+/test_[a-z0-9_]+\.py", name)
    ]
    assert odd == []


# Written in pieces, so that this file passes its own test.
MACHINE = [
    r"\bpypi\." + "org",
    "python" + "hosted",
    "npm" + r"js\.",
    "deb" + r"\.debian\.org",
    r"(?<![\w>}/])/work" + r"/(main|wt|venv|shared|brief|deliver)",
    r"\.\./sh" + "ared",
    r"\.lib" + "rary/",
    r"\bfarm" + "-[a-z]",
]


@pytest.mark.parametrize("pattern", MACHINE)
def test_no_file_names_a_registry_host_or_a_path_of_one_machine(pattern: str) -> None:
    readable = [
        name
        for name in every_file()
        if not name.endswith((".png", ".jpg", ".webp", ".ico", ".gz", ".woff2", ".mo"))
    ]
    assert [name for name in readable if re.search(pattern, (text(name)))] == []
