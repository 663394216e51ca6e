"""Count the queries of a block."""

from typing import Any

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext


class CountQueries:
    """`with CountQueries() as counted: ...`, then `counted.count`."""

    def __enter__(self) -> "CountQueries":
        self._context = CaptureQueriesContext(connection)
        self._context.__enter__()
        return self

    def __exit__(self, *error: Any) -> None:
        self._context.__exit__(*error)
        self.count = len(self._context.captured_queries)


def queries_of(client: Client, path: str) -> int:
    """How many queries a page asks, once the session has been renewed by a visit before."""
    client.get(path)
    with CountQueries() as counted:
        client.get(path)
    return counted.count
