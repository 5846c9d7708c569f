"""What the screen of a recording shows, made without a screen: facts, lines of runs, words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from core.attempts import find_test
from core.report.document import Block, Bullets, Report
from core.report.reading import ReadFile, fact_blocks
from core.report.text import as_text
from core.session.looking import Looked, Standing
from core.session.tracing import run_moment
from core.trace import FoundRun
from core.trace.formats.rejects import NO_FIX
from core.trace.formats.rows import many
from core.trace.traces import Trace
from core.units import format_number
from tui.screens.session.desk import Desk
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.records import Line, Toned

__all__ = [
    "fact_lines",
    "facts_text",
    "found_words",
    "in_drawer",
    "run_columns",
    "run_lines",
    "value_words",
]

_KMH: Final = 3.6
_WIDEST, _MARGIN = 100, 4  # cells of words in a drawer, and beside them
_SIGNS: Final = {"open": "○", "accepted": "●", "adjusted": "◆", "beside": "●", "refused": "×"}


def fact_lines(trace: Trace, looked: Looked) -> tuple[str, ...]:
    """Return three lines: what the recording is, what is odd about it, how its clock is read."""
    top, noise = float(trace.speed.max()) * _KMH, trace.noise * _KMH
    rate = f"{_rows(trace.rate)} a second" if trace.rate else "rate not known"
    lines = (
        (rate, _minutes(trace.duration), f"up to {top:.1f} km/h, give or take {noise:.2g} each"),
        tuple(_odd(trace)),
        tuple(_clock(trace, looked)),
    )
    return tuple(" · ".join(parts) for parts in lines)


def _rows(rate: float) -> str:
    return "1 row" if round(rate, 2) == 1 else f"{rate:.3g} rows"


def _minutes(seconds: float) -> str:
    return f"{seconds:.1f} s" if seconds < 120 else f"{seconds / 60:.1f} min"


def _odd(trace: Trace) -> Iterator[str]:
    bad = trace.rejected_total - trace.reject_counts.get(NO_FIX, 0)
    is_sound = ReadFile(trace.name, trace).is_clean
    if not is_sound:
        yield "▲ f tells what is wrong"
    yield f"▲ {many(bad, 'line')} left out" if bad else "no line left out"
    yield many(trace.gap_count, "gap") if trace.gap_count else "no gaps"
    yield many(trace.duplicates, "duplicate") if trace.duplicates else "no duplicates"
    if trace.jumps:
        yield f"▲ {many(len(trace.jumps), 'clock jump')}"
    if trace.from_positions:
        yield "▲ from positions"
    if trace.findings and is_sound:
        yield "f tells more"


def _clock(trace: Trace, looked: Looked) -> Iterator[str]:
    matching = looked.matching
    if matching is not None and matching.shift:
        yield f"clock {matching.shift:+,.0f} s: {matching.reason or 'as it was set'}"
    elif trace.clock.second is None:
        yield "no time of day told"
    elif matching is not None and matching.pairs:
        yield f"clock agrees with {len(matching.pairs)} typed attempts"
    else:
        yield "clock in UTC" if trace.clock.utc else "clock taken for local time"
    wanted = looked.found.wanted
    if wanted.shape in ("standing", "distance"):
        yield wanted.start.words


def found_words(looked: Looked) -> str:
    """Return how many runs were found, or what to do without any."""
    test, count = looked.found.wanted.test, len(looked.found.runs)
    if not count:
        return f"No run of {test}: f tells more, t looks for another test."
    return f"{many(count, 'run')} of {test}."


def run_columns() -> tuple[Column, ...]:
    """Return the columns of the list of runs."""
    return (
        Column("", 1, 1),
        Column("run", 3, 3, right=True),
        Column("ended", 8, 8, rank=2),
        Column("way", 3, 8, rank=1),
        Column("value", 6, 8, right=True),
        Column("±", 4, 6, right=True, rank=1),
        Column("attempt", 11, 16),
        Column("", 4, 80),
    )


def run_lines(desk: Desk, trace: Trace, looked: Looked) -> tuple[Line, ...]:
    """Return one line for each run, in the order of the recording."""
    return tuple(
        _line(desk, trace, looked, place, standing)
        for place, standing in enumerate(looked.standings)
    )


def _line(desk: Desk, trace: Trace, looked: Looked, place: int, standing: Standing) -> Line:
    run = standing.run or looked.found.runs[place]
    test = find_test(run.test)
    way = run.direction or ("" if run.heading is None else f"{run.heading:.0f}°")
    tone = "quiet" if standing.state == "refused" else "strong"
    return Line(
        str(place),
        (
            Toned(_SIGNS[standing.state], tone),
            Toned(str(place + 1), tone),
            Toned(_when(desk, trace, run, looked.shift), "quiet"),
            plain(way),
            Toned(format_number(run.value, test.decimals), tone),
            Toned(format_number(run.give_or_take, test.decimals), "quiet"),
            Toned(_becomes(looked, place, standing), "plain"),
            Toned(plain(" ".join(run.notes)), "warn" if run.notes else "plain"),
        ),
    )


def _when(desk: Desk, trace: Trace, run: FoundRun, shift: float) -> str:
    moment = run_moment(trace, run, desk.session, shift)
    return f"{moment:%H:%M:%S}" if moment is not None else f"{run.end:.1f} s"


def _becomes(looked: Looked, place: int, standing: Standing) -> str:
    """What the run is, or what it becomes when it is accepted."""
    said = {
        "accepted": f"is {standing.attempt}",
        "adjusted": f"is {standing.attempt}, adjusted",
        "beside": f"beside {standing.attempt}",
        "refused": "refused",
    }
    if standing.state != "open":
        return said[standing.state]
    beside = looked.attempt_of(place)
    return "a new one?" if beside is None else f"beside {beside}?"


def value_words(run: FoundRun) -> str:
    """Return the value of a run with its range: ``7.26 ±0.05 s``."""
    decimals = find_test(run.test).decimals
    half = format_number(run.give_or_take, decimals)
    return f"{format_number(run.value, decimals)} ±{half} {run.unit}"


def in_drawer(blocks: Iterable[Block], width: int) -> str:
    """Return blocks as text for a drawer on a screen that is so many cells wide."""
    room = max(20, min(width, _WIDEST) - _MARGIN)
    return as_text(Report("", tuple(blocks)), width=room).strip()


def facts_text(name: str, desk: Desk, trace: Trace, looked: Looked, width: int) -> str:
    """Return everything that was found odd, as text for a screen that is so many cells wide."""
    read = ReadFile(name, trace, session=desk.session, shift=looked.shift)
    missed = tuple(f"{read.clock(m.start)}: {m.reason}" for m in looked.found.missed)
    blocks = [*fact_blocks(read, "s, {:+.0f} s"), *([Bullets(missed)] if missed else [])]
    return in_drawer(blocks, width)
