"""The log as the list shows it: one frozen row for each session, made away from the screen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import fmean
from typing import TYPE_CHECKING, Final

from core.attempts import counted, find_test
from core.errors import BackToBackError
from core.log.aside import put_aside
from core.session.clock_doubt import clock_doubt
from core.units import format_number
from tui.text import plain
from tui.widgets.records import Cell, Toned

if TYPE_CHECKING:
    from core.attempts import Attempt
    from core.log import Problem
    from core.session.book import Book
    from core.session.documents import SessionHead

__all__ = ["STATE_SIGNS", "LogRow", "LogState", "day_words", "left_open", "matching", "read_state"]

STATE_SIGNS: Final[Mapping[str, str]] = {"open": "○", "closed": "●", "stopped": "▲"}
"""The sign before the word of a session's state."""

_TONES: Final = {"open": "strong", "closed": "quiet", "stopped": "warn"}


@dataclass(frozen=True)
class LogRow:
    """One session as a line of the list."""

    head: SessionHead
    machine: str
    """Name of the machine, or its id when the log does not hold it."""
    place: str
    """Name of the place; empty: not told."""
    cells: tuple[Cell, ...]
    """What the list shows, one text for each column."""
    search: str
    """Everything that the filter looks in, casefolded."""

    @property
    def id(self) -> str:
        """Id of the session."""
        return self.head.id


@dataclass(frozen=True)
class LogState:
    """The whole log, ready to be shown."""

    rows: tuple[LogRow, ...] = ()
    """All sessions, newest first."""
    folder: str = ""
    """Name of the log folder."""
    read_only: str = ""
    """One sentence that says why nothing can be saved; empty if it can."""
    problems: tuple[Problem, ...] = ()
    """What was found wrong in the folder."""
    clock_doubt: str = ""
    """One sentence about a clock that can hardly be right; empty if it can."""


def read_state(book: Book, before: LogState | None = None, *, doubt_clock: bool = True) -> LogState:
    """Return the log as it is now; rows whose session did not change are taken over.

    Args:
        book: the open log.
        before: what was returned last time.
        doubt_clock: ask when the clock can hardly be right; not over an invented season.
    """
    names = {head.id: head.name for head in book.machines()}
    names |= {head.id: head.name for head in book.places()}
    known = {row.id: row for row in before.rows} if before else {}
    rows = []
    for head in reversed(book.sessions()):
        machine, place = names.get(head.machine, head.machine), names.get(head.place, head.place)
        row = known.get(head.id)
        if row is None or (row.head, row.machine, row.place) != (head, machine, place):
            row = _row(head, machine, place)
        rows.append(row)
    problems = book.log.problems
    newest = max((row.head.started for row in rows), default=None)
    return LogState(
        rows=tuple(rows),
        folder=book.log.folder.resolve().name,
        read_only=book.log.read_only_reason,
        problems=tuple(sorted((*problems, *put_aside(book.log.folder, problems)), key=_file)),
        clock_doubt=clock_doubt(book.clock(), newest) if doubt_clock else "",
    )


def _file(problem: Problem) -> str:
    return problem.file


def day_words(moment: datetime) -> str:
    """Return a date as it is said: ``2 Aug 26``."""
    return f"{moment.day} {moment:%b %y}"


def _row(head: SessionHead, machine: str, place: str) -> LogRow:
    good = counted(head.attempts, head.test, head.test)
    state = f"{STATE_SIGNS[head.state]} {head.state}"
    cells: tuple[Cell, ...] = (
        Toned(plain(head.label), "strong"),
        day_words(head.started),
        plain(machine),
        plain(head.test),
        Toned(plain(place), "quiet"),
        str(len(good)) if good else Toned("–", "quiet"),
        _mean(head.test, good),
        Toned(state, _TONES[head.state]),
        Toned(plain(head.question), "quiet"),
    )
    return LogRow(head, machine, place, cells, _search(head, machine, place, state))


def _mean(test: str, good: Sequence[Attempt]) -> Cell:
    """Return the raw mean with its unit; one for each setup sheet when there were several."""
    if not good:
        return Toned("–", "quiet")
    by_sheet: dict[int, list[float]] = {}
    for attempt in good:
        by_sheet.setdefault(attempt.sheet, []).append(attempt.value or 0.0)
    unit, decimals = _scale(test)
    means = (format_number(fmean(values), decimals) for values in by_sheet.values())
    text = " · ".join(means) + f" {unit}"
    return text if len(by_sheet) == 1 else Toned(text, short=f"{len(by_sheet)} sheets")


def _scale(test: str) -> tuple[str, int]:
    try:
        found = find_test(test)
    except BackToBackError:
        return "", 2
    return found.unit, found.decimals


def _search(head: SessionHead, machine: str, place: str, state: str) -> str:
    tags = {code for attempt in head.attempts for code in attempt.tags}
    struck = {a.strike.code for a in head.attempts if a.strike}
    words = (
        head.label,
        machine,
        place,
        head.test,
        head.timing,
        head.question,
        f"{head.started:%Y-%m-%d}",
        f"{head.started.day} {head.started:%b %Y}",
        day_words(head.started),
        state,
        head.stopped_because,
        *sorted(tags),
        *(["struck", *sorted(struck)] if struck else ()),
    )
    return "\n".join(words).casefold()


def matching(rows: Sequence[LogRow], text: str) -> Sequence[int]:
    """Return the indexes of the rows that hold every word of the text.

    Args:
        rows: all rows.
        text: words with blanks between them, in any letter case.
    """
    words = text.casefold().split()
    if not words:
        return range(len(rows))
    first, *others = words
    found = [index for index, row in enumerate(rows) if first in row.search]
    for word in others:
        found = [index for index in found if word in rows[index].search]
    return found


def left_open(rows: Sequence[LogRow], now: datetime) -> tuple[LogRow, ...]:
    """Return the sessions that are open since an earlier day, newest first."""
    today = now.date()
    return tuple(
        row
        for row in rows
        if row.head.state == "open" and row.head.started.astimezone(now.tzinfo).date() < today
    )
