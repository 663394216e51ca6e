"""Any weather file, line by line in bounded memory, from where an earlier reading stopped: hours, and a flag for
everything that was not used as it stands.

A format says only how one line becomes an hour. What comes twice, goes back, jumps, is missing or cannot be is found
here, the same for all. Rows closer than an hour are folded into their hour.
"""

import datetime as dt
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import BinaryIO

from rinklog.weather.hours import SPIKE_C, VALUE_NAMES, Flag, Hour, plausible, possible

LONGEST_LINE = 4096
HOUR = dt.timedelta(hours=1)
NEAR = dt.timedelta(hours=2)
SUMS, MEANS = ("precip_mm",), ("shortwave_wm2", "longwave_wm2")
Row = Callable[[str, str, list[Flag]], Hour | None]  # text, where, flags


class BadFile(ValueError):
    """A file of which nothing can be read; the sentence says why."""


@dataclass(frozen=True)
class Format:
    """How a kind of file is told and read. `preceding` are sums that a row gives for the hour before it."""

    slug: str
    name: str
    fits: Callable[[bytes], bool]
    head_lines: int
    begin: Callable[[list[str]], Row]
    preceding: tuple[str, ...] = ()
    in_order: bool = True  # else the months come from different years


@dataclass(frozen=True)
class Place:
    """Where a reading stands: everything before it is read. `last` is the time and air of the last hour given."""

    offset: int = 0
    line: int = 0
    last: dt.datetime | None = None
    last_air_c: float | None = None


@dataclass(frozen=True)
class _Kept:
    """An hour and where its line begins."""

    hour: Hour
    start: int
    line: int


class Reading:
    """One way through a file. After each hour `place` is where a later reading goes on; flags gather in `flags`."""

    def __init__(self, file: BinaryIO, format: Format, place: Place | None = None) -> None:
        self.file, self.format = file, format
        self.place = place or Place()
        self.flags: list[Flag] = []
        self.missing: Counter[str] = Counter()

    def hours(self) -> Iterator[Hour]:
        """The hours of the file from `place` on. Errors: BadFile."""
        group: list[_Kept] = []
        for kept in self._finished():
            if group and not _same_hour(group[0].hour.at, kept.hour.at):
                yield self._give(group, kept.start, kept.line)
                group = []
            group.append(kept)
        if group:
            yield self._give(group, self.file.tell(), group[-1].line + 1)

    def settled(self) -> list[Flag]:
        """Take out the flags of the lines before `place`: later lines are read again by whoever goes on from there."""
        self.flags.sort(key=line_of)
        settled = [flag for flag in self.flags if line_of(flag) < self.place.line]
        del self.flags[: len(settled)]
        return settled

    def _give(self, group: list[_Kept], offset: int, line: int) -> Hour:
        self.place = Place(offset, line, group[-1].hour.at, group[-1].hour.air_c)
        hour = group[0].hour if len(group) == 1 else folded([one.hour for one in group])
        for name in VALUE_NAMES:
            if getattr(hour, name) is None:
                self.missing[name] += 1
        return hour

    def _finished(self) -> Iterator[_Kept]:
        """Hours whose neighbours on both sides are known: sums moved to where they fell, lone spikes taken out."""
        last = self.place.last
        before = Hour(last, air_c=self.place.last_air_c) if last else None
        held: _Kept | None = None
        for kept in self._ordered():
            if held is not None:
                done = self._finish(before, held, kept.hour)
                yield done
                before = done.hour
            held = kept
        if held is not None:
            yield self._finish(before, held, None)

    def _finish(self, before: Hour | None, held: _Kept, after: Hour | None) -> _Kept:
        hour = held.hour
        if before and after and is_spike(before, hour, after):
            self.flags.append(Flag(f"line {held.line}", "air_c", f"{hour.air_c:g}", "spike"))
            hour = replace(hour, air_c=None, dew_point_c=None, humidity_frac=None)
        next_one = after is not None and after.at == hour.at + dt.timedelta(seconds=hour.step_s)
        values = {name: getattr(after, name) if next_one else None for name in self.format.preceding}
        if any(getattr(hour, name) != value for name, value in values.items()):
            hour = replace(hour, **values)  # type: ignore[arg-type]
        return _Kept(hour, held.start, held.line)

    def _ordered(self) -> Iterator[_Kept]:
        """Possible hours whose times rise; gaps, doubles and steps back are flagged."""
        last = self.place.last
        for kept in self._rows():
            where, at = f"line {kept.line}", kept.hour.at
            if not plausible(at):
                self.flags.append(Flag(where, "at", at.isoformat(), "no-time"))
                continue
            if last is not None and at <= last and (self.format.in_order or at == last):
                why = "doubled" if at == last else "out-of-order"
                self.flags.append(Flag(where, "at", at.isoformat(), why))
                continue
            if last is not None and at - last > 1.5 * HOUR and self.format.in_order:
                lost = (at - last).total_seconds() / 3600 - 1
                self.flags.append(Flag(where, "at", f"{lost:g} h before {at.isoformat()}", "gap"))
            last = at
            yield _Kept(possible(where, kept.hour, self.flags), kept.start, kept.line)

    def _rows(self) -> Iterator[_Kept]:
        self.file.seek(0)
        source = lines(self.file, 0, 0)
        head = [text for _, (_, _, text) in zip(range(self.format.head_lines), source, strict=False)]
        row = self.format.begin(head)
        if self.place.offset:
            self.file.seek(self.place.offset)
            source = lines(self.file, self.place.offset, self.place.line - 1)
        for number, start, text in source:
            if not text.strip():
                continue
            if hour := row(text, f"line {number}", self.flags):
                yield _Kept(hour, start, number)


def lines(file: BinaryIO, offset: int, number: int) -> Iterator[tuple[int, int, str]]:
    """(line number, first byte, text). A line that is too long ends in an ellipsis, which no format reads."""
    while raw := file.readline(LONGEST_LINE + 1):
        start, number = offset, number + 1
        offset += len(raw)
        text = raw.decode("utf-8-sig" if start == 0 else "utf-8", errors="replace").rstrip("\r\n")
        if len(raw) > LONGEST_LINE and not raw.endswith(b"\n"):
            text = text[:40] + "…"
            while rest := file.readline(LONGEST_LINE):
                offset += len(rest)
                if rest.endswith(b"\n"):
                    break
        yield number, start, text


def line_of(flag: Flag) -> int:
    """The line that a flag is about."""
    return int(flag.where.removeprefix("line "))


def _same_hour(first: dt.datetime, at: dt.datetime) -> bool:
    begin = first.replace(minute=0, second=0, microsecond=0)
    return begin <= at < begin + HOUR


def folded(rows: list[Hour]) -> Hour:
    """Several rows of one hour as one: the first row's values, the sum of its rain, the mean of its radiation."""
    values: dict[str, float | None] = {}
    for name in (*SUMS, *MEANS):
        known = [value for row in rows if (value := getattr(row, name)) is not None]
        share = 1 if name in SUMS else len(known)
        values[name] = sum(known) / share if known else None
    return replace(rows[0], **values)  # type: ignore[arg-type]


def is_spike(before: Hour, hour: Hour, after: Hour) -> bool:
    """Whether an air temperature stands far out from both its neighbours, on the same side of them."""
    if before.air_c is None or hour.air_c is None or after.air_c is None:
        return False
    if hour.at - before.at > NEAR or after.at - hour.at > NEAR:
        return False
    up, down = hour.air_c - before.air_c, hour.air_c - after.air_c
    return min(abs(up), abs(down)) > SPIKE_C and (up > 0) == (down > 0)


def everything(file: BinaryIO, format: Format) -> tuple[list[Hour], list[Flag]]:
    """A whole small file at once. Errors: BadFile."""
    reading = Reading(file, format)
    return list(reading.hours()), reading.flags
