"""What the documents promise exists, and what exists is documented."""

import re
import tomllib

from rinklog.version import VERSION
from tests.house.files import ROOT, files, text

READ = re.compile(r"(?:environ(?:\.get\(|\[|\.setdefault\()|\bflag\(|\bwords\()\s*\"([A-Z][A-Z0-9_]+)\"")
# Not ours to document: Django's own, and the shell's.
OTHERS = {"DJANGO_SETTINGS_MODULE", "PYTHONPATH", "PATH"}


def variables() -> set[str]:
    """Every environment variable that the program reads."""
    return {name for file in files(".py", "rinklog") for name in READ.findall(text(file))} - OTHERS


def documented() -> set[str]:
    """Every environment variable that .env.example shows."""
    return set(re.findall(r"^#? ?([A-Z][A-Z0-9_]+)=", text(".env.example"), flags=re.MULTILINE))


def test_every_variable_the_program_reads_is_in_the_example_and_the_other_way_round() -> None:
    assert len(variables()) >= 15
    assert documented() == variables()


def test_the_readme_names_every_variable() -> None:
    assert {name for name in variables() if f"`{name}`" not in text("README.md")} == set()


def test_the_readme_names_every_command() -> None:
    commands = [
        name for name in files(".py", "rinklog") if "/management/commands/" in name and "/_" not in name
    ]
    names = {name.rpartition("/")[2].removesuffix(".py") for name in commands}
    assert {"up", "test", "bench", "compute", "simulate"} <= names
    assert {name for name in names if f"manage.py {name}" not in text("README.md")} == set()


def test_the_readme_opens_with_the_job_then_a_picture_then_the_two_commands() -> None:
    title, job, picture, *rest = [part for part in text("README.md").split("\n\n") if part.strip()]
    assert title == "# rinklog"
    assert "natural-ice rink" in job
    assert picture.startswith(("![", "<!-- picture"))
    assert "python3 manage.py up" in rest[0]
    assert "python3 manage.py test" in rest[0]


def test_the_version_is_said_once_and_copied_right() -> None:
    assert tomllib.loads(text("pyproject.toml"))["project"]["version"] == VERSION


def test_ci_runs_the_readmes_own_command() -> None:
    assert "exec python3 manage.py test" in text(".ci/run")
    assert (ROOT / ".ci/run").stat().st_mode & 0o100


def test_every_requirement_is_pinned_and_explained() -> None:
    named = [line.partition("#")[0].strip() for line in text("requirements.txt").splitlines()]
    pins = [line for line in named if line]
    assert [
        line for line in pins if not re.fullmatch(r"[A-Za-z0-9_-]+(\[[a-z]+\])?==[0-9][0-9a-z.]*", line)
    ] == []
    explained = text("DEVELOPERS.md").partition("## Dependencies")[2].lower()
    assert [line for line in pins if re.split(r"[\[=]", line)[0].lower() not in explained] == []


def test_the_readme_names_every_column_of_the_log() -> None:
    from rinklog.archive.columns import FIXED

    assert [column.name for column in FIXED if f"| `{column.name}` |" not in text("README.md")] == []
