"""Rows of one session put together: its start, place, directions, and the sheet of each attempt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import lru_cache

from core.attempts import read_direction
from core.attempts.asking import quoted
from core.errors import InputError
from core.exchange.moments import Moment
from core.exchange.naming import folded
from core.exchange.results import Rejected
from core.exchange.rows import Row
from core.exchange.slot_cells import Told, read_cell
from core.setup import find_slot

__all__ = ["Draft", "Entry", "direction_of", "draft_of"]

_LONGEST = timedelta(hours=24)  # from the start of a session to its last attempt
_OVERNIGHT = timedelta(hours=12)  # the same where that one ran on the next day


@dataclass(frozen=True, slots=True)
class Entry:
    """One attempt of a draft."""

    n: int  # its place among the rows of its session, from 1
    row: Row
    direction: str  # one of the two names, or empty
    at: datetime | None
    told: Mapping[str, Told]  # what its row says of the slots, filled down from the rows before


@dataclass
class Draft:
    """One session of a file."""

    label: str
    machine: str  # name
    place: str  # name; empty: not told
    started: Moment
    test: str
    timing: str
    directions: tuple[str, ...]
    entries: list[Entry] = field(default_factory=list)
    rejected: list[Rejected] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def draft_of(
    rows: Sequence[tuple[int, Row]], directions: Mapping[str, tuple[str, ...]]
) -> Draft | list[Rejected]:
    """Put the rows of one session together.

    Args:
        rows: of one label and machine, each with its place among them (from 1), in file order.
        directions: the two names of each place, by folded name of the place; ``""`` for none.

    Returns:
        The draft, or the reasons when none of its rows can be used.
    """
    started = next((row.started for _, row in rows if row.started is not None), None)
    if started is None:
        reason = "started is missing: without a day nobody can tell which sessions ran together."
        return [Rejected(row.line, reason) for _, row in rows]
    first = rows[0][1]
    place = next((row.place for _, row in rows if row.place), "")
    draft = Draft(
        label=first.session,
        machine=first.machine,
        place=place,
        started=started,
        test=first.test,
        timing=first.timing if all(row.timing for _, row in rows) else "",
        directions=directions.get(folded(place), ()),
    )
    filled: dict[str, Told] = {}
    for n, row, at in _in_time(rows, draft):
        try:
            draft.entries.append(_entry(n, row, at, draft, filled))
        except InputError as error:
            draft.rejected.append(Rejected(row.line, error.message))
    return draft


def _in_time(
    rows: Sequence[tuple[int, Row]], draft: Draft
) -> list[tuple[int, Row, datetime | None]]:
    """Return the rows with the time of each attempt, in the order of these times if all are told.

    Where ``started`` differs from row to row it is the attempt's own time.
    """
    own = any(row.started not in (None, draft.started) for _, row in rows)
    timed = [(n, row, _time_of(row, own)) for n, row in rows]
    if not own or any(at is None for _, _, at in timed):
        return timed
    ordered = sorted(timed, key=lambda entry: entry[2] or draft.started.at)
    if ordered != timed:
        draft.remarks.append(
            f"{draft.label}: its rows are not in the order of their times; they were put in order."
        )
        earliest = ordered[0][1].started
        draft.started = earliest if earliest is not None else draft.started
        return [(n, row, at) for n, (_, row, at) in enumerate(ordered, start=1)]
    return ordered


def _time_of(row: Row, own: bool) -> datetime | None:
    if row.at is not None:
        return None if row.at.only_day else row.at.at
    if own and row.started is not None and not row.started.only_day:
        return row.started.at
    return None


def _entry(n: int, row: Row, at: datetime | None, draft: Draft, filled: dict[str, Told]) -> Entry:
    """Return one attempt; ``filled`` holds what the rows before it said of the slots.

    When a part changes, what belonged to the old one only (teeth, limit) is not filled down.

    Raises:
        InputError: the row does not belong into the session, or a cell of it cannot be read.
    """
    if row.place and folded(row.place) != folded(draft.place):
        raise InputError(
            f"{draft.label} ran at {quoted(draft.place)}, and one session runs at one place."
        )
    if row.started is not None and _is_another_day(row.started, draft.started):
        raise InputError(
            f"{row.started.at:%Y-%m-%d} is another day than the start of {draft.label} "
            f"({draft.started.at:%Y-%m-%d}), and so another session, with a label of its own."
        )
    direction = direction_of(row.direction, draft.directions)
    said = dict(_told(row))
    changed = {s for s, new in said.items() if s in filled and new.key != filled[s].key}
    gone = {slot: Told(None) for slot in filled if find_slot(slot).of in changed}
    told = {**filled, **gone, **said}
    filled.clear()
    filled.update(told)
    return Entry(n, row, direction, at, told)


def _is_another_day(told: Moment, start: Moment) -> bool:
    """Tell whether a row is of another day; a session may go on some hours past midnight."""
    away = abs(told.at - start.at)
    if told.at.date() == start.at.date():
        return away > _LONGEST  # told with different offsets
    return away > _OVERNIGHT or (told.only_day and start.only_day)


@lru_cache(maxsize=1024)
def direction_of(text: str, directions: tuple[str, ...] = ()) -> str:
    """Return the name of a direction as it was written; see `read_direction`."""
    return read_direction(text, directions)


def _told(row: Row) -> Iterator[tuple[str, Told]]:
    """Yield what the cells of a row say, by slot; the teeth of a sprocket also by its name."""
    for slot, cell in row.slots.items():
        told = read_cell(slot, cell)
        yield slot, told
        teeth = f"{slot}_teeth"
        if told.teeth is not None and teeth not in row.slots:
            yield teeth, told.teeth
