"""The log as a list: one row per session, filtered by words, as a table and as plain data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from core.attempts import counted, find_test, pairs
from core.errors import BackToBackError
from core.report.document import Column, Paragraph, Report, Table
from core.report.words import day_words, mean_words
from core.session import Book, SessionHead

__all__ = ["ListRow", "list_data", "list_page", "list_rows"]


@dataclass(frozen=True)
class ListRow:
    """One session of the list."""

    head: SessionHead
    machine: str  # name
    place: str  # name; empty: not told
    timed: int  # attempts that count in the main test
    sheets: int  # setup sheets that these ran on
    mean: float | None  # of pair means if there are pairs, else of attempts; None if on two sheets
    unit: str


def list_rows(book: Book, words: Sequence[str] = ()) -> tuple[ListRow, ...]:
    """Return the sessions that hold every word, newest first.

    Args:
        book: the open log.
        words: looked for in label, id, machine, place, test, timing, question, date, state,
            tags and strike codes, in any letter case.
    """
    names = {h.id: h.name for h in book.machines()} | {h.id: h.name for h in book.places()}
    sought = [word.casefold() for part in words for word in part.split()]
    rows = []
    for head in reversed(book.sessions()):
        machine, place = names.get(head.machine, head.machine), names.get(head.place, head.place)
        text = "\n".join(_searched(head, machine, place)).casefold() if sought else ""
        if all(word in text for word in sought):
            rows.append(_row(head, machine, place))
    return tuple(rows)


def _searched(head: SessionHead, machine: str, place: str) -> Iterator[str]:
    yield from (head.label, head.id, machine, place, head.test, head.timing, head.question)
    yield from (head.started.date().isoformat(), day_words(head.started))
    yield from (head.state, head.stopped_because, head.rider)
    for attempt in head.attempts:
        yield from attempt.tags
        if attempt.strike is not None:
            yield f"struck {attempt.strike.code}"


def _row(head: SessionHead, machine: str, place: str) -> ListRow:
    good = counted(head.attempts, head.test, head.test)
    found, _ = pairs(good)
    values = [pair.mean for pair in found] or [a.value for a in good if a.value is not None]
    try:
        unit = find_test(head.test).unit
    except BackToBackError:
        unit = ""
    sheets = len({attempt.sheet for attempt in good})
    mean = sum(values) / len(values) if sheets == 1 else None
    return ListRow(head, machine, place, len(good), sheets, mean, unit)


def list_page(rows: Sequence[ListRow], words: Sequence[str] = ()) -> Report:
    """Return the rows as a table of at most 80 columns; what each is about stands there in full.

    Args:
        rows: what was found.
        words: that it was looked for by.
    """
    if not rows:
        sought = " ".join(words)
        none = f"No session holds “{sought}”. Without words all of them are listed."
        return Report("", (Paragraph(none if sought else "No session yet."),))
    columns = (
        Column("session", flexible=True),
        Column("day", right=True),
        Column("machine", flexible=True),
        Column("test"),
        Column("n", right=True),
        Column("mean", right=True),
        Column("what", flexible=True),
    )
    return Report("", (Table(columns, tuple(_cells(row) for row in rows), wraps=True),))


def _cells(row: ListRow) -> tuple[str, ...]:
    head = row.head
    what = head.question or row.place
    if head.state == "stopped":
        what = f"stopped: {head.stopped_because}"
    elif head.state == "open":
        what = f"open; {what}" if what else "open"
    return (
        head.label,
        day_words(head.started),
        row.machine,
        head.test,
        str(row.timed),
        mean_words(row.mean, head.test) or (f"{row.sheets} sheets" if row.sheets else "-"),
        what,
    )


def list_data(rows: Sequence[ListRow]) -> list[dict[str, Any]]:
    """Return the rows as plain data."""
    return [
        {
            "id": row.head.id,
            "label": row.head.label,
            "started": row.head.started.isoformat(),
            "machine": row.machine,
            "place": row.place,
            "test": row.head.test,
            "timing": row.head.timing,
            "question": row.head.question,
            "gain": row.head.gain,
            "state": row.head.state,
            "stopped_because": row.head.stopped_because,
            "attempts": len(row.head.attempts),
            "counted": row.timed,
            "sheets": row.sheets,
            "mean": row.mean,
            "unit": row.unit,
        }
        for row in rows
    ]
