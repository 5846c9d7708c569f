"""One row of the CSV of attempts, cell by cell: what it says, or the reason it is turned down."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from core.attempts import (
    STRIKES,
    AttemptKind,
    Strike,
    find_strike,
    find_tag,
    find_test,
    find_timing,
)
from core.attempts.asking import quoted
from core.errors import InputError, NotFoundError
from core.exchange.cells import Cells
from core.exchange.columns import Header
from core.exchange.moments import Moment, read_moment
from core.exchange.values import read_value

__all__ = ["LATE_MARK", "Row", "read_row"]

LATE_MARK = "(late)"
"""Stands behind the code of a strike that was made after the time was seen."""

_KINDS: Mapping[str, AttemptKind] = {
    "": "timed",
    "timed": "timed",
    "warmup": "warm-up",
    "warm": "warm-up",
    "aborted": "aborted",
    "abort": "aborted",
}
_CODES = frozenset(strike.code for strike in STRIKES)
_LONGEST_NAME = 200  # letters of a label or name


@dataclass(frozen=True, slots=True)
class Row:
    """One attempt as the file tells it; names are as written."""

    line: int
    session: str
    machine: str
    place: str
    started: Moment | None  # None: blank, as the session's first row
    at: Moment | None
    test: str  # short name
    timing: str  # short name; empty: blank
    direction: str  # as written
    value: float | None
    text: str
    kind: AttemptKind
    tags: tuple[str, ...]
    unsure: bool
    strike: Strike | None
    note: str
    slots: Mapping[str, str]  # cells by id of slot, blanks left out
    question: str  # why the value is unusual; empty: it is not


def read_row(cells: Cells, header: Header) -> Row:
    """Read one row.

    Args:
        cells: as they were split; a row that is short is filled up with blanks.
        header: where the columns are.

    Raises:
        InputError: one of its cells cannot be read, or they contradict each other.
    """
    values = _full(cells, header)

    def cell(name: str) -> str:
        index = header.columns.get(name)
        return "" if index is None else values[index]

    test = find_test(_need(cell("test"), "test"))
    kind = _kind(cell("kind"))
    tags, unsure = _tags(cell("tag"))
    value = cell("value").strip()
    if kind == "aborted" and value:
        raise InputError("an aborted attempt has no value: leave the cell blank, or say timed.")
    if kind != "aborted" and not value:
        raise InputError(
            f"the value is missing; only an aborted attempt has none (kind is {kind})."
        )
    given = read_value(value, cell("unit"), test) if value else None
    return Row(
        line=cells.line,
        session=_name(cell("session"), "session"),
        machine=_name(cell("machine"), "machine"),
        place=_name(cell("place"), "place") if cell("place").strip() else "",
        started=_moment(cell("started")),
        at=_moment(cell("at")),
        test=test.name,
        timing=find_timing(cell("timing")).name if cell("timing").strip() else "",
        direction=cell("direction").strip(),
        value=given.value if given else None,
        text=given.text if given else "",
        kind=kind,
        tags=tags,
        unsure=unsure,
        strike=_strike(cell("struck")),
        note=cell("note"),
        slots={slot: values[i] for slot, i in header.slots.items() if values[i].strip()},
        question=given.question if given else "",
    )


def _full(cells: Cells, header: Header) -> tuple[str, ...]:
    if cells.fault:
        raise InputError(f"{cells.fault}.")
    extra = cells.cells[header.width :]
    if any(cell.strip() for cell in extra):
        raise InputError(
            f"it has {len(cells.cells)} cells and the header {header.width}: "
            "a decimal comma without quotation marks?"
        )
    return (*cells.cells, *[""] * (header.width - len(cells.cells)))


def _need(cell: str, name: str) -> str:
    if not cell.strip():
        raise InputError(f"the {name} is missing.")
    return cell


def _name(cell: str, what: str) -> str:
    name = " ".join(_need(cell, what).split())
    if len(name) > _LONGEST_NAME:
        raise InputError(f"the {what} {quoted(name, 20)} is longer than {_LONGEST_NAME} letters.")
    return name


def _moment(cell: str) -> Moment | None:
    return read_moment(cell) if cell.strip() else None


def _kind(cell: str) -> AttemptKind:
    kind = _KINDS.get("".join(c for c in cell.casefold() if c.isalpha()))
    if kind is None:
        raise InputError(f"{quoted(cell.strip())} is not a kind: timed, warm-up or aborted.")
    return kind


def _tags(cell: str) -> tuple[tuple[str, ...], bool]:
    """Return the codes of the tags and whether the time is doubtful."""
    unsure = "?" in cell
    words = cell.replace("?", " ").replace("+", " ").replace(",", " ").replace(";", " ")
    if not words.strip():
        return (), unsure
    try:
        return (find_tag(words).code,), unsure
    except NotFoundError:
        return tuple(dict.fromkeys(find_tag(word).code for word in words.split())), unsure


def _strike(cell: str) -> Strike | None:
    """Return the strike that a cell tells: a code or words for it; behind a code (late), a note."""
    text = cell.strip()
    if not text:
        return None
    try:
        return Strike(code=find_strike(text).code)
    except NotFoundError:
        pass
    head, _, rest = text.partition(" ")
    code = head.rstrip(":,").upper()
    if code not in _CODES:
        codes = ", ".join(f"{s.code} ({s.words})" for s in STRIKES)
        raise InputError(f"{quoted(text)} is not a reason to strike; one of {codes}.")
    late = rest.strip().casefold().startswith(LATE_MARK)
    note = rest.strip()[len(LATE_MARK) :] if late else rest
    return Strike(code=code, note=note.strip(), late=late)
