"""A review as JSON, so that it can be kept; the words stay in the code and follow the reader's language."""

import datetime as dt
from typing import Any
from uuid import UUID

from rinklog.reports.review.shapes import SHAPES
from rinklog.reports.review.tables import CREW, EVERYBODY, TREASURER, Shape, Table
from rinklog.reports.review.told import again, stored
from rinklog.reports.review.whole import SeasonReview

COUNCIL = "council"
# Who sees which tables: names of people stay within the crew, money with those who see it and whom they show it.
SEES: dict[str, frozenset[str]] = {
    EVERYBODY: frozenset({EVERYBODY}),
    CREW: frozenset({EVERYBODY, CREW}),
    TREASURER: frozenset({EVERYBODY, CREW, TREASURER}),
    COUNCIL: frozenset({EVERYBODY, TREASURER}),
}


def as_json(review: SeasonReview) -> dict[str, Any]:
    """Everything but the words."""
    return {
        "season_id": str(review.season_id),
        "season": review.season,
        "rink": review.rink,
        "first": review.first.isoformat(),
        "last": review.last.isoformat(),
        "made_at": review.made_at.isoformat(),
        "tables": [
            {
                "key": table.key,
                "rows": [[stored(cell) for cell in row] for row in table.rows],
                "notes": [stored(note) for note in table.notes],
            }
            for table in review.tables
        ],
    }


def from_json(content: dict[str, Any]) -> SeasonReview:
    """The same review again. A table that this version no longer knows is left out."""
    return SeasonReview(
        season_id=UUID(content["season_id"]),
        season=content["season"],
        rink=content["rink"],
        first=dt.date.fromisoformat(content["first"]),
        last=dt.date.fromisoformat(content["last"]),
        made_at=dt.datetime.fromisoformat(content["made_at"]),
        tables=tuple(_table(SHAPES[one["key"]], one) for one in content["tables"] if one["key"] in SHAPES),
    )


def _table(shape: Shape, one: dict[str, Any]) -> Table:
    """One stored table in the reader's language."""
    rows: Any = (
        tuple(again(cell, said=column.said) for column, cell in zip(shape.columns, row, strict=True))
        for row in one["rows"]
    )
    return Table(shape, tuple(rows), tuple(str(again(note, said=True)) for note in one["notes"]))


def for_readers(review: SeasonReview, readers: str) -> list[Table]:
    """The tables that these readers may see, in their order."""
    return [table for table in review.tables if table.shape.readers in SEES[readers]]
