"""What the attempts stage shows of a session: rows, board and numbers, made without a screen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Final

from core.attempts import Attempt, find_strike, read_back, sum_up, write_value
from core.report.attempt_pictures import attempts_picture
from core.report.pictures import Picture
from core.report.words import attempt_words, clock_words
from core.session import coming_direction
from core.session.live import since_last
from core.units import format_number
from tui.screens.session.desk import Desk
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.records import Line, Toned
from tui.widgets.time_board import Board

__all__ = [
    "attempt_columns",
    "attempt_lines",
    "board_of",
    "number_lines",
    "picture_of",
    "since_words",
]


def attempt_columns(desk: Desk) -> tuple[Column, ...]:
    """Return the columns of the list, the value under its unit."""
    return (
        Column("", 1, 1),
        Column("n", 2, 3, right=True),
        Column("at", 5, 5, rank=2),
        Column("on", 2, 3, rank=3),
        Column("way", 3, 8, rank=1),
        Column(desk.test.unit, 6, 9, right=True),
        Column("", 6, 60),
    )


_SIGNS: Final = {"timed": "●", "warm-up": "◌", "aborted": "×"}
_STRUCK: Final = "○"
_ODD: Final = "◆"


def attempt_lines(desk: Desk) -> tuple[Line, ...]:
    """Return one line for each attempt, oldest first."""
    letters = desk.letters
    several = len(set(letters)) > 1
    odd = {found.n for found in desk.odd}
    return tuple(
        _line(a, desk, letters[a.sheet] if several else "", a.n in odd)
        for a in desk.session.attempts
    )


def _line(attempt: Attempt, desk: Desk, build: str, is_odd: bool) -> Line:
    struck = attempt.strike is not None
    counts = attempt.kind == "timed" and not struck
    sign = _STRUCK if struck else _ODD if is_odd and counts else _SIGNS[attempt.kind]
    tone = "strong" if counts else "quiet"
    value = "-" if attempt.value is None else write_value(attempt.value, desk.test)
    cells = (
        Toned(sign, tone),
        Toned(str(attempt.n), tone),
        Toned(clock_words(attempt.at), "quiet"),
        build,
        plain(attempt.direction) or "?" if desk.session.directions else "",
        Toned(value + ("?" if attempt.unsure else ""), tone),
        _beside(attempt, is_odd and counts),
    )
    return Line(str(attempt.n), cells)


def _beside(attempt: Attempt, is_odd: bool) -> Toned:
    """Return what is noted beside an attempt, with the words of its strike."""
    said = ["stands apart"] if is_odd else []
    said += ["broken off"] if attempt.kind == "aborted" else []
    said += [attempt_words(attempt)]
    if attempt.strike is not None and not attempt.strike.note:
        said += [find_strike(attempt.strike.code).words]
    short = attempt.strike.code if attempt.strike else " ".join(attempt.tags)
    short = short or ("apart" if is_odd else "")
    return Toned(plain("; ".join(filter(None, said))), "warn" if is_odd else "plain", short)


def since_words(age: timedelta | None) -> str:
    """Return how long ago: ``3:07``, or ``1:02:05`` above an hour; empty for None."""
    if age is None:
        return ""
    seconds = int(age.total_seconds())
    hours, minutes = divmod(seconds // 60, 60)
    clock = f"{minutes}:{seconds % 60:02d}"
    return f"{hours}:{minutes:02d}:{seconds % 60:02d}" if hours else clock


def board_of(desk: Desk) -> Board:
    """Return the board: the last attempt, its words to read back, and the coming one."""
    session = desk.session
    last = session.attempts[-1] if session.attempts else None
    following = 1 + max((a.n for a in session.attempts), default=0)
    since = since_words(since_last(session, desk.now()))
    return Board(
        value=write_value(last.value, desk.test) if last and last.value is not None else "",
        unit=desk.test.unit if last and last.value is not None else "",
        lines=tuple(_board_words(desk, last)),
        coming=f"attempt {following}",
        direction=coming_direction(session),
        directions=session.directions,
        kind="" if session.next_kind == "timed" else session.next_kind,
        since=f"last {since} ago" if since else "",
    )


def _board_words(desk: Desk, last: Attempt | None) -> Iterator[str]:
    if last is None:
        yield desk.test.title
        yield _usual_words(desk)
        return
    struck = f"struck {last.strike.code}" if last.strike else ""
    yield "  ".join(
        filter(None, (f"attempt {last.n}", last.direction, clock_words(last.at), struck))
    )
    yield f"“{read_back(last, desk.test)}”"
    yield _usual_words(desk)


def _usual_words(desk: Desk) -> str:
    if desk.usual is None:
        return "no times yet to expect"
    low, high = (write_value(end, desk.test) for end in desk.usual)
    span = f"{low} to {high}" if low != high else low
    return f"{plain(desk.usual_of)}: {span} {desk.test.unit}"


def number_lines(desk: Desk) -> tuple[str, ...]:
    """Return the numbers under the picture: scatter, best, strikes, tags, what was changed."""
    test, session = desk.test, desk.session
    if not session.attempts:
        return (test.procedure, *_baseline_lines(desk))
    if not test.unit:
        return ("Words, no numbers.",)
    series = sum_up(desk.of_build, test, session.test)

    def shown(value: float | None) -> str:
        return "-" if value is None else format_number(value, test.decimals)

    lines = []
    units = series.pairs if series.pairs.n else series.numbers
    kind = "pairs" if series.pairs.n else "attempts"
    if units.sd is not None:
        lines.append(f"{kind} scatter {shown(units.sd)}, best {shown(series.numbers.best)}")
    if series.with_struck is not None:
        lines.append(f"{series.struck} struck; with them {shown(series.with_struck.mean)}")
    lines += [tag.words for tag in series.tags]
    if series.timers is not None:
        lines.append(f"second timer {series.timers.bias:+.{test.decimals}f} ({series.timers.n})")
    return (*lines, *_baseline_lines(desk))


def _baseline_lines(desk: Desk) -> Iterator[str]:
    found = desk.around.baseline if desk.around else None
    if found is not None:
        differs = ", ".join(found.differs) or "nothing"
        yield f"changed against {plain(found.side.label)}: {differs}"


def picture_of(desk: Desk) -> Picture:
    """Return the picture of the attempts, with the build they are held against."""
    around = desk.around
    return attempts_picture(
        desk.session,
        pool=around.pool if around else None,
        odd=[found.n for found in desk.odd],
        against=around.baseline.side if around and around.baseline else None,
    )
