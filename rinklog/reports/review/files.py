"""The files of a review, each in the versions its readers may see."""

from collections.abc import Iterator

from rinklog.geometry.grid import Grid as Plan
from rinklog.reports.review.print.document import pdf
from rinklog.reports.review.spreadsheet import spreadsheet
from rinklog.reports.review.stored import SEES, for_readers
from rinklog.reports.review.whole import SeasonReview

PDF, SHEETS = "review.pdf", "review.xlsx"


def files_of(review: SeasonReview, plan: Plan | None = None) -> Iterator[tuple[str, str, bytes]]:
    """(name, readers, content) of every file; `plan` is the grid that maps are drawn on."""
    for readers in SEES:
        tables = for_readers(review, readers)
        yield PDF, readers, pdf(review, tables, plan)
        yield SHEETS, readers, spreadsheet(review, tables)
