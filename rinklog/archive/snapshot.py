"""One moment of the database, read while everybody goes on writing."""

from collections.abc import Iterator
from contextlib import contextmanager
from copy import deepcopy
from uuid import uuid4

from django.db import DEFAULT_DB_ALIAS, connections, transaction

REPEATABLE = "SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY"


@contextmanager
def snapshot() -> Iterator[str]:
    """Give the alias of a connection on which every read sees the same moment.

    SQLite in WAL mode keeps a reader's first view until it ends, and no writer waits for it; PostgreSQL does the same
    at the isolation level repeatable read.
    """
    usual = connections[DEFAULT_DB_ALIAS]
    if usual.in_atomic_block:
        yield DEFAULT_DB_ALIAS  # the caller stands in one moment already
        return
    alias = f"snapshot-{uuid4().hex}"
    chosen = deepcopy(connections.settings[DEFAULT_DB_ALIAS])
    if usual.vendor == "sqlite":
        # The site's own connections take the write lock at once; a reader must not.
        chosen["OPTIONS"]["transaction_mode"] = "DEFERRED"
    connections.settings[alias] = chosen
    try:
        with transaction.atomic(using=alias), connections[alias].cursor() as cursor:
            if usual.vendor == "postgresql":
                cursor.execute(REPEATABLE)
            cursor.execute("SELECT COUNT(*) FROM django_migrations")  # the moment begins with the first read
            yield alias
    finally:
        connections[alias].close()
        del connections[alias]
        del connections.settings[alias]
