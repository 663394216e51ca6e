"""What happens between `manage.py` and a command: the settings' place, and the quick way to the pure ones."""

import os
import sys
from importlib import import_module

# These compute and print; Django would only make them slow to start.
PURE = {"compute": "rinklog.calculators.cli", "simulate": "rinklog.simulate.cli"}
# These start processes that set Django up in folders of their own.
WORKSHOP = {
    "test": "rinklog.console.testing",
    "bench": "rinklog.console.bench",
    "torture": "rinklog.console.torture",
}


def enter(argv: list[str]) -> int:
    """Run one command line and return its exit status."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rinklog.settings")
    command, rest = (argv[1], argv[2:]) if len(argv) > 1 else ("", [])
    if command in PURE:
        return pure(command, rest)
    if command in WORKSHOP:
        return int(import_module(WORKSHOP[command]).run(rest))
    choose_data_dir(rest)
    from django.core.management import execute_from_command_line

    load_settings()
    execute_from_command_line(argv)
    return 0


def load_settings() -> None:
    """Read the settings now: what is wrong with them is one sentence, not a traceback."""
    from django.conf import settings
    from django.core.exceptions import ImproperlyConfigured

    try:
        settings.DATA_DIR  # noqa: B018  the first look at any setting reads them all
    except (ImproperlyConfigured, OSError, ValueError) as error:
        sys.exit(f"rinklog: {error}")


def pure(command: str, arguments: list[str]) -> int:
    """Run a command that needs no settings and no database."""
    main = import_module(PURE[command]).main
    return int(main(arguments, sys.stdout, sys.stderr))


def choose_data_dir(arguments: list[str]) -> None:
    """Let `--data DIR` decide where the settings look, before they are read."""
    for index, word in enumerate(arguments):
        if word == "--":
            return
        if word == "--data" and index + 1 < len(arguments):
            os.environ["RINKLOG_DATA"] = arguments[index + 1]
        elif word.startswith("--data="):
            os.environ["RINKLOG_DATA"] = word.partition("=")[2]
