"""Moments cut by the database itself: into rink-local days and weeks, or into plain seconds. Not a Python call a row."""

from django.db.models import CharField, DateField, F, FloatField, Func
from django.db.models.expressions import Expression
from django.db.models.functions import Cast


class LocalDay(Func):
    """The date of a moment at a fixed offset [min]: in the database's own code, not a Python call a row."""

    output_field = DateField()
    sqlite_cut = ""
    postgres_cut = "day"

    def __init__(self, moment: Expression | F, offset_min: int) -> None:
        super().__init__(moment)
        self.offset_min = int(offset_min)

    def as_sqlite(self, compiler, connection, **more):  # type: ignore[no-untyped-def]
        """SQLite: date(), which knows minutes and weekdays."""
        template = f"date(%(expressions)s, '{self.offset_min:+d} minutes'{self.sqlite_cut})"
        return self.as_sql(compiler, connection, template=template, **more)

    def as_postgresql(self, compiler, connection, **more):  # type: ignore[no-untyped-def]
        """PostgreSQL: shifted in UTC, then cut."""
        shifted = f"((%(expressions)s) AT TIME ZONE 'UTC' + interval '{self.offset_min} minutes')"
        template = f"date_trunc('{self.postgres_cut}', {shifted})::date"
        return self.as_sql(compiler, connection, template=template, **more)


class LocalMonday(LocalDay):
    """The Monday of that date's week (ISO 8601)."""

    sqlite_cut = ", 'weekday 0', '-6 days'"
    postgres_cut = "week"


class Seconds(Func):
    """A moment as seconds since 1970, to the millisecond."""

    output_field = FloatField()

    def as_sqlite(self, compiler, connection, **more):  # type: ignore[no-untyped-def]
        """SQLite: the Julian day of 1970 is 2440587.5."""
        template = "round((julianday(%(expressions)s) - 2440587.5) * 86400.0, 3)"
        return self.as_sql(compiler, connection, template=template, **more)

    def as_postgresql(self, compiler, connection, **more):  # type: ignore[no-untyped-def]
        """PostgreSQL."""
        template = "round(extract(epoch from (%(expressions)s))::numeric, 3)::double precision"
        return self.as_sql(compiler, connection, template=template, **more)


def as_text(column: str) -> Cast:
    """An id as the text that the database keeps: the same id is the same text, and nothing is made of it."""
    return Cast(column, CharField())
