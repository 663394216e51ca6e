"""Tables as lines of JSON, the same from SQLite and from PostgreSQL: first the columns, then a row a line."""

import datetime as dt
import json
from collections.abc import Iterable, Iterator
from typing import Any
from uuid import UUID

from django.apps import apps
from django.core.exceptions import ValidationError
from django.core.management.color import no_style
from django.db import DEFAULT_DB_ALIAS, connections
from django.db.models import FileField, ForeignKey, Model

# How the site itself is doing, imports under way, and failed tries at a door are no club's memory.
LEFT_OUT_APPS = {"upkeep", "archive"}
# Made from the facts, and made again from them.
BUILT_AGAIN = {"reports.builtreview", "reports.builtfile", "reports.seasoncold"}
# A restored site sends nothing a second time, and its devices asked another key.
LEFT_OUT = {"crew.attempt", "weather.weatherfile", "telling.delivery", "telling.device", *BUILT_AGAIN}
CHUNK = 500


class BadTable(ValueError):
    """Lines that are no table of this version."""


def tables() -> dict[str, type[Model]]:
    """Every table that a backup holds, by its label, in order of the labels."""
    found = {
        model._meta.label_lower: model
        for model in apps.get_models(include_auto_created=True)
        if model.__module__.startswith("rinklog.") and model._meta.app_label not in LEFT_OUT_APPS
    }
    return {label: found[label] for label in sorted(found) if label not in LEFT_OUT}


def dump(model: type[Model], using: str) -> Iterator[bytes]:
    """A table's lines, by primary key."""
    names = [field.attname for field in model._meta.concrete_fields]
    yield line({"table": model._meta.label_lower, "columns": names})
    rows = model._base_manager.using(using).order_by("pk").values_list(*names)
    for row in rows.iterator(CHUNK):
        yield line([plain(value) for value in row])


def line(value: Any) -> bytes:
    """One line of JSON."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def plain(value: Any) -> Any:
    """A value as JSON has it; times in UTC."""
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat()
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    return str(value) if isinstance(value, UUID) else value


def load(model: type[Model], lines: Iterable[bytes]) -> int:
    """Write a table's rows into the empty table; returns how many. Errors: BadTable."""
    rows = iter(lines)
    try:
        columns = json.loads(next(rows))["columns"]
        fields = {field.attname: field for field in model._meta.concrete_fields}
        readers = [(name, reader(fields[name])) for name in columns]
    except (ValueError, KeyError, StopIteration, TypeError) as error:
        raise BadTable(f"{model._meta.label_lower}: {error}") from error
    count, some = 0, []
    for raw in rows:
        some.append(one(model, readers, raw))
        if len(some) == CHUNK:
            count += len(model._base_manager.bulk_create(some))
            some = []
    return count + len(model._base_manager.bulk_create(some))


def reader(field: Any) -> Any:
    """What turns a JSON value into a value of a field."""
    return field.target_field.to_python if isinstance(field, ForeignKey) else field.to_python


def one(model: type[Model], readers: list[tuple[str, Any]], raw: bytes) -> Model:
    """The row of a line."""
    try:
        values = json.loads(raw)
        return model(**{name: read(value) for (name, read), value in zip(readers, values, strict=True)})
    except (ValueError, TypeError, ValidationError) as error:
        raise BadTable(f"{model._meta.label_lower}: a row cannot be read") from error


def is_empty() -> bool:
    """Whether the site holds nothing that a backup would."""
    return not any(model._base_manager.exists() for model in tables().values())


def go_on_counting() -> None:
    """Let numbers that the database gives out go on behind those that were restored (PostgreSQL)."""
    connection = connections[DEFAULT_DB_ALIAS]
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), list(tables().values())):
            cursor.execute(statement)


def file_names(using: str) -> list[str]:
    """The names of all stored files that some row holds."""
    names: set[str] = set()
    for model in tables().values():
        for field in model._meta.concrete_fields:
            if isinstance(field, FileField):
                names |= set(model._base_manager.using(using).values_list(field.attname, flat=True))
    return sorted(names - {""})
