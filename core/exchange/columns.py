"""The columns of the CSV of attempts: one table, and reading a header against it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.errors import InputError, NotFoundError
from core.setup import find_slot, own_slot, slot_order

__all__ = ["COLUMNS", "NEEDED", "SLOT_PREFIX", "Column", "Header", "header_cells", "read_header"]

SLOT_PREFIX = "slot:"


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the CSV."""

    name: str
    words: str  # what it holds, for the documentation
    needed: bool = False  # a file without it is refused


COLUMNS: tuple[Column, ...] = (
    Column("session", "the user's own label; rows of one label and machine are one session", True),
    Column("started", "when the session started: ISO 8601 date or date and time", True),
    Column("machine", "its name", True),
    Column("place", "its name; blank: not told"),
    Column("test", "short name of the test, such as 0-50, 80m, top", True),
    Column("timing", "timing gear: hand, logger-1hz, logger-10hz, gates, trace; blank: not told"),
    Column("direction", "one of the place's two names; blank: not known, or run one way"),
    Column("value", "the time or speed; blank for an aborted attempt", True),
    Column("unit", "unit of the value; blank: that of the test"),
    Column("kind", "timed, warm-up or aborted; blank: timed"),
    Column("tag", "codes of machine behaviour, such as BOG SPIN; ? for a doubtful time"),
    Column("struck", "code of the reason it does not count, such as LATE, and a note behind it"),
    Column("note", "anything"),
    Column("at", "when this attempt ran, if that is known"),
)

NEEDED = tuple(column.name for column in COLUMNS if column.needed)


@dataclass(frozen=True, slots=True)
class Header:
    """Where the columns of one file are."""

    width: int  # cells of a full row
    columns: dict[str, int]  # index by name of column
    slots: dict[str, int]  # index by id of slot
    unknown: tuple[str, ...]  # names that say nothing here


def _plain(name: str) -> str:
    return "".join(name.split()).replace("_", "").replace("-", "").casefold()


_BY_SPELLING = {_plain(column.name): column.name for column in COLUMNS}


def read_header(cells: Sequence[str], name: str) -> Header:
    """Read the first row of a CSV of attempts; case, blanks and order do not matter.

    Args:
        cells: of the first row.
        name: what the file is called, for the sentence.

    Raises:
        InputError: a needed column is missing, or one is there twice.
    """
    columns: dict[str, int] = {}
    slots: dict[str, int] = {}
    unknown: list[str] = []
    for index, cell in enumerate(cells):
        found = _BY_SPELLING.get(_plain(cell))
        slot = None if found else _slot(cell)
        if found or slot:
            table, key = (columns, found or "") if found else (slots, slot or "")
            if key in table:
                raise InputError(f"{name} has the column {key} twice.")
            table[key] = index
        elif cell.strip():
            unknown.append(cell.strip())
    missing = [column for column in NEEDED if column not in columns]
    if missing:
        said = f"column {missing[0]}" if len(missing) == 1 else f"columns {', '.join(missing)}"
        needed = ", ".join(NEEDED)
        raise InputError(f"{name} has no {said}.", f"Needed are {needed}; the rest may be missing.")
    return Header(len(cells), columns, slots, tuple(unknown))


def _slot(cell: str) -> str | None:
    """Return the slot of a header cell: one of the sheet, or one of the user's own."""
    word = cell.strip()
    if not word.casefold().startswith(SLOT_PREFIX):
        return None
    name = word[len(SLOT_PREFIX) :].strip()
    try:
        return find_slot(name).id
    except (NotFoundError, InputError):
        pass
    try:
        return own_slot(name).id
    except InputError:
        return None


def header_cells(slots: Sequence[str], *, with_at: bool) -> tuple[str, ...]:
    """Return the header that is written.

    Args:
        slots: ids of the slots that any row tells.
        with_at: whether any row tells the time of its attempt.
    """
    plain = [c.name for c in COLUMNS if with_at or c.name != "at"]
    return (*plain, *(SLOT_PREFIX + slot for slot in sorted(slots, key=slot_order)))
