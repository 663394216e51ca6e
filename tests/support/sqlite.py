"""A look into a running site's database from beside it."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any


def execute(database: Path, statement: str, *values: Any) -> list[tuple[Any, ...]]:
    """Run one statement and return its rows."""
    with closing(sqlite3.connect(database, timeout=20)) as connection, connection:
        return connection.execute(statement, values).fetchall()
