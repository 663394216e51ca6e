"""The report of a torture run, as a person reads it."""

import json
from dataclasses import asdict

from tests.torture.run import Report


def lines(report: Report) -> list[str]:
    """A table of what was done, what happened on the way, and what the site holds."""
    plan, verdict = report.plan, report.verdict
    rows = [
        ("seed", plan.seed),
        ("took", f"{report.took_s:.0f} s"),
        ("entries written / on the site", f"{plan.entries} / {verdict.entries}"),
        ("photos picked / on the site", f"{plan.photos} / {verdict.photos}"),
        ("phones", plan.phones),
        ("site killed and started again", report.kills),
        *sorted(report.phones.items()),
        *(
            (f"requests {fate}", count)
            for fate, count in sorted(report.fates.items(), key=lambda one: -one[1])
        ),
        ("waiting when the signal came back", report.waited_at_the_end),
        ("left on the phones", named(report.left)),
        ("entries missing", named(verdict.missing)),
        ("entries doubled", named(verdict.doubled)),
        ("entries altered", named(verdict.altered)),
        ("entries that nobody wrote", verdict.strange),
        ("photos missing", named(verdict.photos_missing)),
        ("photos doubled", verdict.photos_doubled),
        ("photos not prepared", verdict.photos_unready),
        ("order of time", "right" if verdict.in_order else "WRONG"),
    ]
    verdict_words = "nothing lost, nothing doubled, nothing altered" if report.holds else "DOES NOT HOLD"
    return [*(f"{name:<36} {value}" for name, value in rows), verdict_words]


def as_json(report: Report) -> str:
    """The same for programs."""
    return json.dumps(asdict(report) | {"holds": report.holds}, indent=1)


def named(faults: list[object] | list[int] | list[str]) -> str:
    """How many, and the first few."""
    first = "; ".join(str(fault) for fault in faults[:5])
    return f"{len(faults)}: {first}" if faults else "0"
