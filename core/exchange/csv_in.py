"""A CSV of attempts into a log: row by row, each in or turned down with its line and reason.

One row is one attempt. Needed are the columns ``session``, ``started``, ``machine``, ``test`` and
``value``; see `core.exchange.columns` for all of them and what a blank means.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import timedelta

from core.attempts import guess_directions
from core.clock import is_plausible
from core.errors import InputError, NotFoundError
from core.exchange.cells import Cells, cells_of
from core.exchange.columns import Header, read_header
from core.exchange.drafts import Draft, direction_of, draft_of
from core.exchange.merging import Merger, Outcome
from core.exchange.naming import Names, folded
from core.exchange.results import Imported, Rejected, plural
from core.exchange.rows import Row, read_row
from core.session import Book

__all__ = ["import_csv"]

_AS_WRITTEN = "It went in as written."  # nobody is there to be asked
_LONG_AFTER = timedelta(hours=24)  # an attempt so far from the start of its session is remarked
_MOST_REMARKS = 5  # of one sort; the rest is counted

Group = list[tuple[int, Row]]


@dataclass
class _Read:
    """The rows of a file by session, and those turned down."""

    groups: dict[tuple[str, str], Group] = field(default_factory=dict)
    counts: dict[tuple[str, str], int] = field(default_factory=dict)  # rows, good or not
    rejected: list[Rejected] = field(default_factory=list)


def import_csv(book: Book, text: str, name: str, *, check_only: bool = False) -> Imported:
    """Read a CSV of attempts into a log.

    Rows of one label and machine make one session. A session that the log has already is left
    alone if it says the same, and added to if the file goes on where it ends; where the two
    contradict each other the log stays as it is. Machines, places and parts of a file that the log
    does not know are made. Every session is saved for itself, so that a run that was cut off is
    simply done again.

    Args:
        book: an open log.
        text: the whole file.
        name: what the file is called.
        check_only: save nothing.

    Raises:
        InputError: the header is not that of such a file.
        LogError: the log takes nothing; what was saved before stays.
    """
    rows = cells_of(text)
    if not rows or rows[0].fault:
        raise InputError(f"{name} has no header that can be read.")
    header = read_header(rows[0].cells, name)
    names = Names(book)
    read = _read(rows[1:], header, names)
    merger = Merger(book, names, frozenset(header.columns))
    drafts = _drafts(read, names)
    for draft in drafts:
        merger.take(draft)
    if not check_only:
        for document in (*names.new, *merger.outcome.sessions):
            book.save(document)
    read.rejected += [r for draft in drafts for r in draft.rejected] + merger.outcome.rejected
    remarks = tuple(_remarks(header, drafts, book))
    return _imported(name, merger.outcome, names, read, remarks, check_only=check_only)


def _read(rows: Iterable[Cells], header: Header, names: Names) -> _Read:
    read = _Read()
    for cells in rows:
        key = _key(cells, header, names)
        read.counts[key] = read.counts.get(key, 0) + 1
        try:
            row = read_row(cells, header)
        except (InputError, NotFoundError) as error:
            hint = f" {error.hint}" if isinstance(error, NotFoundError) else ""
            read.rejected.append(Rejected(cells.line, f"{error.message}{hint}"))
            continue
        read.groups.setdefault(key, []).append((read.counts[key], row))
    return read


def _key(cells: Cells, header: Header, names: Names) -> tuple[str, str]:
    """Return what tells the session of a row from others, also where the row is turned down."""
    label, machine = (
        cells.cells[i] if (i := header.columns[name]) < len(cells.cells) else ""
        for name in ("session", "machine")
    )
    return folded(label), names.machine_key(machine)


def _drafts(read: _Read, names: Names) -> list[Draft]:
    directions = _directions((row for group in read.groups.values() for _, row in group), names)
    drafts = []
    for group in read.groups.values():
        made = draft_of(group, {**directions, "": _two_ways(row for _, row in group)})
        if isinstance(made, Draft):
            drafts.append(made)
        else:
            read.rejected += made
    return drafts


def _directions(rows: Iterable[Row], names: Names) -> Mapping[str, tuple[str, ...]]:
    """Return the two directions of each place: as the log has them, else the first two told."""
    by_place: dict[str, list[Row]] = {}
    for row in rows:
        by_place.setdefault(folded(row.place), []).append(row)
    found = {}
    for place, told in by_place.items():
        try:
            known = names.known_place(told[0].place) if place else None
        except InputError:
            known = None
        found[place] = (known.directions if known else ()) or _two_ways(told)
    return found


def _two_ways(rows: Iterable[Row]) -> tuple[str, ...]:
    """Return the pair of the first name told, or the first two names where that has no pair."""
    seen: list[str] = []
    for name in dict.fromkeys(row.direction for row in rows):
        try:
            direction = direction_of(name)
        except InputError:
            continue
        if direction and direction not in seen:
            seen.append(direction)
    return guess_directions(seen[:1]) or guess_directions(seen[:2])


def _remarks(header: Header, drafts: Iterable[Draft], book: Book) -> Iterator[str]:
    if header.unknown:
        yield f"Not read, as no such column is known: {', '.join(header.unknown)}."
    now = book.clock()
    unusual: list[str] = []
    for draft in drafts:
        yield from draft.remarks
        if not is_plausible(draft.started.at, now):
            yield f"{draft.label} started {draft.started.at:%Y-%m-%d}: was that clock right?"
        for entry in draft.entries:
            line = f"line {entry.row.line}"
            if entry.row.question:
                unusual.append(f"{line}: {entry.row.question} {_AS_WRITTEN}")
            if entry.at is not None and abs(entry.at - draft.started.at) > _LONG_AFTER:
                day, start = f"{entry.at:%Y-%m-%d}", f"{draft.started.at:%Y-%m-%d}"
                unusual.append(
                    f"{line}: it ran {day} and {draft.label} started {start}: was a clock wrong? "
                    f"{_AS_WRITTEN}"
                )
            unusual += [
                f"{line}: {told.question.replace(': sure?', '.')} {_AS_WRITTEN}"
                for slot, told in entry.told.items()
                if told.question and slot in entry.row.slots
            ]
    first = list({said.partition(": ")[2]: said for said in reversed(unusual)}.values())[::-1]
    yield from first[:_MOST_REMARKS]
    if len(first) > _MOST_REMARKS:
        yield f"{plural(len(first) - _MOST_REMARKS, 'more value')} out of the usual."


def _imported(
    name: str,
    outcome: Outcome,
    names: Names,
    read: _Read,
    remarks: tuple[str, ...],
    *,
    check_only: bool,
) -> Imported:
    return Imported(
        file=name,
        format="csv",
        went_in=outcome.went_in,
        there=outcome.there,
        rejected=tuple(sorted(read.rejected, key=lambda r: r.line)),
        conflicts=tuple(outcome.conflicts),
        contradicting=outcome.contradicting,
        sessions_new=tuple(outcome.new),
        sessions_added_to=tuple(outcome.added_to),
        sessions_there=outcome.unchanged,
        made=names.made,
        remarks=remarks,
        checked_only=check_only,
    )
