"""The attempts of a log as CSV, one row each; what is written is read back to the same rows.

Sessions stand in the order of the log, attempts in that of their session. What a CSV cannot hold
(checks, air, notes of the session, predictions, close-outs, sessions without attempts) is in the
JSON lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.attempts import Attempt, find_test
from core.errors import LogError, NotFoundError
from core.exchange.cells import line_of
from core.exchange.columns import SLOT_PREFIX, header_cells
from core.exchange.moments import write_moment
from core.exchange.naming import export_labels, one_line
from core.exchange.rows import LATE_MARK
from core.exchange.slot_cells import NOT_RECORDED, cell_of, counted_teeth
from core.exchange.soundness import faults
from core.exchange.values import value_cells
from core.session import Book, Session
from core.setup import Sheet

__all__ = ["CsvText", "export_csv"]


@dataclass(frozen=True, slots=True)
class CsvText:
    """The whole CSV and what is not in it."""

    data: bytes  # UTF-8, line ends ``\\n``
    rows: int
    left_out: tuple[str, ...]  # sentences about sessions that cannot be written


def export_csv(book: Book) -> CsvText:
    """Return the attempts of the whole log as CSV.

    The first line names the columns; ``at`` and ``slot:`` columns are there only where a row tells
    something in them. Spreadsheets take none of its cells for a formula.
    """
    machines = {head.id: head.name for head in book.machines()}
    places = {head.id: head.name for head in book.places()}
    labels = export_labels(book.sessions(), machines)
    rows: list[dict[str, str]] = []
    left_out: list[str] = []
    for head in book.sessions():
        try:
            session = book.log.get(Session, head.id)
        except (LogError, NotFoundError) as error:
            left_out.append(f"{head.label} is left out: {error.message}")
            continue
        wrong = faults(session)
        if wrong:
            left_out.append(f"{head.label} is left out: {wrong[0]}.")
            continue
        named = {
            "session": labels[session.id],
            "machine": one_line(machines.get(session.machine, session.machine)),
            "place": one_line(places.get(session.place, session.place)),
        }
        rows += ({**named, **cells} for cells in _rows(session))
    told = {column for row in rows for column, cell in row.items() if cell}
    slots = [column[len(SLOT_PREFIX) :] for column in told if column.startswith(SLOT_PREFIX)]
    header = header_cells(slots, with_at="at" in told)
    lines = [line_of(header), *(line_of([row.get(c, "") for c in header]) for row in rows)]
    return CsvText("".join(lines).encode(), len(rows), tuple(left_out))


def _rows(session: Session) -> Iterator[dict[str, str]]:
    """Yield the cells of each attempt by column."""
    sheets = [_slots(sheet) for sheet in session.sheets]
    started = write_moment(session.started)
    recorded: set[str] = set()
    for attempt in session.attempts:
        sheet = sheets[attempt.sheet]
        gone = dict.fromkeys(recorded - sheet.keys(), NOT_RECORDED)
        recorded |= sheet.keys()
        yield {"started": started, **_run(attempt, session), **_marks(attempt), **sheet, **gone}


def _slots(sheet: Sheet) -> dict[str, str]:
    """Return the cells of a sheet; teeth that only a sprocket's name tells are not recorded."""
    cells = {slot: cell_of(slot, reading) for slot, reading in sheet.readings.items()}
    named = {f"{slot}_teeth" for slot, cell in cells.items() if counted_teeth(slot, cell)}
    whole = {**dict.fromkeys(named, NOT_RECORDED), **cells}
    return {SLOT_PREFIX + slot: cell for slot, cell in whole.items()}


def _run(attempt: Attempt, session: Session) -> dict[str, str]:
    test = find_test(attempt.test or session.test)
    value, unit = value_cells(attempt, test)
    return {
        "test": test.name,
        "timing": attempt.timing or session.timing,
        "direction": attempt.direction,
        "value": value,
        "unit": unit,
        "kind": attempt.kind,
        "at": write_moment(attempt.at) if attempt.at else "",
    }


def _marks(attempt: Attempt) -> dict[str, str]:
    strike = attempt.strike
    struck = (strike.code, LATE_MARK if strike.late else "", strike.note) if strike else ()
    return {
        "tag": " ".join((*attempt.tags, *(["?"] if attempt.unsure else []))),
        "struck": " ".join(filter(None, struck)),
        "note": attempt.note,
    }
