"""The files of a review, each in the versions its readers may see."""

from collections.abc import Iterator

from rinklog.reports.review.whole import SeasonReview


def files_of(review: SeasonReview) -> Iterator[tuple[str, str, bytes]]:
    """(name, readers, content) of every file."""
    return iter(())
