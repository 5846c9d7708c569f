"""What is in recordings that were read, as a page and as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Final

from core.attempts import find_test
from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Report, Table
from core.report.reading_runs import drag_blocks, drag_data, match_block, match_data
from core.session import Session
from core.session.matching_runs import Matching
from core.session.tracing import run_moment
from core.trace import Found, FoundRun, TraceDocument
from core.trace.drag import CoastDrag
from core.trace.formats import Finding
from core.trace.formats.rejects import NO_FIX
from core.trace.runs import Ride
from core.trace.traces import Trace
from core.units import format_number

__all__ = ["ReadFile", "fact_blocks", "read_data", "read_page"]

_MOST: Final = 10  # rejected lines, rides or misses printed of one file; all are in the data
_WRONG: Final = frozenset(
    {
        "broken",
        "clock ahead",
        "clock jump",
        "clock never set",
        "disagree",
        "overlap",
        "unit",
        "week rollover",
    }
)
"""Kinds of findings that mean something is wrong with a file, and not only with its gear."""


@dataclass(frozen=True)
class ReadFile:
    """One file that was read, and what was made of it."""

    file: str  # as given
    trace: Trace
    rides: tuple[Ride, ...] = ()
    found: Found | None = None  # runs, where a test was asked for
    session: Session | None = None  # that its runs were held against
    matching: Matching | None = None
    drag: CoastDrag | None = None
    kept: TraceDocument | None = None
    shift: float = 0.0  # s added to its clock

    @property
    def is_clean(self) -> bool:
        """Whether nothing is wrong with it."""
        return self.trace.is_clean and not any(f.kind in _WRONG for f in self.trace.findings)

    def clock(self, t: float) -> str:
        """Return when a time of the recording was, by the clock that is known best."""
        second = self.trace.clock.second
        if second is None:
            return f"{t:.1f} s"
        if self.session is not None:
            zone, day = self.session.started.tzinfo, self.session.started.date()
            if zone is not None:
                moment = self.trace.moment(t, zone, day, self.shift)
                if moment is not None:
                    return f"{moment.astimezone(zone):%H:%M:%S}"
        return str(timedelta(seconds=int(second + t + self.shift) % 86400)).zfill(8)


def read_page(files: Sequence[ReadFile]) -> Report:
    """Return what was found in each file, one after the other."""
    blocks: list[Block] = []
    for read in files:
        blocks.append(Heading(read.file))
        blocks += fact_blocks(read, "--shift {:.0f}")
        blocks += _run_blocks(read) if read.found is not None else _ride_blocks(read)
        if read.matching is not None and read.found is not None:
            blocks.append(match_block(read.matching, read.found.runs))
        if read.drag is not None:
            blocks += drag_blocks(read.drag)
        if read.kept is not None:
            blocks.append(Paragraph(f"Kept in the log as traces/{read.kept.id}."))
    return Report("", tuple(blocks))


def fact_blocks(read: ReadFile, shift_hint: str) -> list[Block]:
    """Return what a file is, what is odd about it, and the lines that were left out and why.

    Args:
        read: the file.
        shift_hint: how a clock is put right, with a place for the seconds.
    """
    items = [_found_words(finding, shift_hint) for finding in read.trace.findings]
    items += _rejected(read.trace)
    return [Facts(_facts(read)), *([Bullets(tuple(items))] if items else [])]


def _facts(read: ReadFile) -> tuple[tuple[str, str], ...]:
    trace = read.trace
    clock = trace.clock
    began = read.clock(0.0)
    if clock.second is not None:
        zone = "" if read.session is not None else " UTC" if clock.utc else ", zone not told"
        began = f"{clock.day.isoformat() + ' ' if clock.day else ''}{began}{zone}"
    source = "positions" if trace.from_positions else "the file"
    top = float(trace.speed.max()) * 3.6
    error = f"{trace.noise * 3.6:.2g} km/h each"
    return (
        ("Rows", f"{trace.rows:,} at {trace.rate:.3g} a second, {_minutes(trace.duration)}"),
        ("Begins", began),
        ("Speeds", f"from {source}, up to {top:.1f} km/h, scatter {error}"),
    )


def _found_words(finding: Finding, shift_hint: str) -> str:
    """The sentence of a finding, with what would put the clock right."""
    if finding.shift is None:
        return finding.sentence
    return f"{finding.sentence} To put it right: {shift_hint.format(finding.shift)}."


def _minutes(seconds: float) -> str:
    return f"{seconds:.1f} s" if seconds < 120 else f"{seconds / 60:.1f} min"


def _rejected(trace: Trace) -> list[str]:
    """Sentences about lines that were left out."""
    if not trace.rejected_total:
        return []
    counts = ", ".join(f"{kind} {count:,}" for kind, count in sorted(trace.reject_counts.items()))
    items = [f"Left out: {trace.rejected_total:,} of its lines ({counts})."]
    told = [r for r in trace.rejected if r.kind != NO_FIX]
    items += [f"line {r.line:,}: {r.reason}" for r in told[:_MOST]]
    more = trace.rejected_total - trace.reject_counts.get(NO_FIX, 0) - _MOST
    return [*items, f"and {more:,} more"] if more > 0 else items


def _run_blocks(read: ReadFile) -> list[Block]:
    found = read.found
    assert found is not None  # noqa: S101  asked before
    test = find_test(found.wanted.test)
    if not found.runs:
        blocks: list[Block] = [Paragraph(f"No run of {test.name} in it.")]
    else:
        columns = (
            Column("run", right=True),
            Column("at"),
            Column("way"),
            Column(test.unit, right=True),
            Column("±", right=True),
            Column("remarks", flexible=True),
        )
        rows = tuple(_row(read, n, run) for n, run in enumerate(found.runs, start=1))
        blocks = [Table(columns, rows, wraps=True)]
        rule = found.runs[0].start_rule
        blocks.append(Paragraph(f"{test.title}{', ' + rule if rule else ''}; ± holds 19 of 20."))
    misses = [f"{read.clock(m.start)}: {m.reason}" for m in found.missed]
    if misses:
        more = [f"and {len(misses) - _MOST} more"] if len(misses) > _MOST else []
        blocks.append(Bullets((*misses[:_MOST], *more)))
    return blocks


def _row(read: ReadFile, number: int, run: FoundRun) -> tuple[str, ...]:
    way = run.direction or ("" if run.heading is None else f"{run.heading:.0f}°")
    return (
        str(number),
        read.clock(run.start),
        way,
        format_number(run.value, find_test(run.test).decimals),
        format_number(run.give_or_take, 2),
        " ".join(run.notes),
    )


def _ride_blocks(read: ReadFile) -> list[Block]:
    if not read.rides:
        return [Paragraph("It never moves faster than 10 km/h.")]
    columns = (
        Column("at"),
        Column("for", right=True),
        Column("way", right=True),
        Column("top km/h", right=True),
        Column("heading", right=True),
    )
    rows = tuple(
        (
            read.clock(ride.start),
            f"{ride.end - ride.start:.1f} s",
            f"{ride.way:.0f} m",
            f"{ride.top * 3.6:.1f}",
            "" if ride.heading is None else f"{ride.heading:.0f}°",
        )
        for ride in read.rides
    )
    return [Table(columns, rows), Paragraph("Runs of a test are found with --test.")]


def read_data(files: Sequence[ReadFile]) -> list[dict[str, Any]]:
    """Return what was found in each file as plain data."""
    return [_file_data(read) for read in files]


def _file_data(read: ReadFile) -> dict[str, Any]:
    trace = read.trace
    began = trace.moment(0.0) if trace.clock.utc else None
    day = trace.clock.day
    return {
        "file": read.file,
        "format": trace.kind,
        "sha256": trace.sha256,
        "bytes": trace.size,
        "rows": trace.rows,
        "rate": trace.rate,
        "seconds": trace.duration,
        "began": began.isoformat() if began is not None else None,
        "clock": {
            "day": day.isoformat() if day else None,
            "second": trace.clock.second,
            "utc": trace.clock.utc,
        },
        "shift": read.shift,
        "speed_from": "positions" if trace.from_positions else "file",
        "speed_noise": trace.noise,
        "top_speed": float(trace.speed.max()) * 3.6,
        "gaps": {
            "count": trace.gap_count,
            "first": [{"t": g.t, "seconds": g.seconds} for g in trace.gaps],
        },
        "duplicates": trace.duplicates,
        "clock_jumps": [{"line": j.line, "seconds": j.seconds} for j in trace.jumps],
        "rejected": trace.rejected_total,
        "rejected_kinds": dict(trace.reject_counts),
        "rejected_first": [{"line": r.line, "reason": r.reason} for r in trace.rejected],
        "findings": [
            {"kind": f.kind, "sentence": f.sentence, "shift": f.shift} for f in trace.findings
        ],
        "clean": read.is_clean,
        "rides": [_ride_data(ride) for ride in read.rides],
        **_found_data(read),
        "kept": read.kept.id if read.kept is not None else None,
    }


def _ride_data(ride: Ride) -> dict[str, Any]:
    return {
        "start": ride.start,
        "end": ride.end,
        "top_speed": ride.top * 3.6,
        "metres": ride.way,
        "heading": ride.heading,
        "straight": ride.straight,
    }


def _found_data(read: ReadFile) -> dict[str, Any]:
    if read.found is None:
        return {}
    return {
        "test": read.found.wanted.test,
        "runs": [_run_data(read, run) for run in read.found.runs],
        "missed": [{"start": m.start, "reason": m.reason} for m in read.found.missed],
        "matching": match_data(read.matching, read.found.runs) if read.matching else None,
        "drag": drag_data(read.drag) if read.drag is not None else None,
    }


def _run_data(read: ReadFile, run: FoundRun) -> dict[str, Any]:
    at = None
    if read.session is not None:
        moment = run_moment(read.trace, run, read.session, read.shift)
    else:
        moment = read.trace.moment(run.end, shift=read.shift) if read.trace.clock.utc else None
    if moment is not None:
        at = moment.isoformat(timespec="milliseconds")
    return {
        "start": run.start,
        "end": run.end,
        "at": at,
        "value": run.value,
        "unit": run.unit,
        "sd": run.sd,
        "give_or_take": run.give_or_take,
        "direction": run.direction,
        "heading": run.heading,
        "start_rule": run.start_rule,
        "end_speed": run.end_speed * 3.6,
        "from_line": int(read.trace.line[run.from_index]),
        "to_line": int(read.trace.line[run.to_index]),
        "notes": list(run.notes),
    }
