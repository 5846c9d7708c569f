"""Rows of a lift table while they are typed: each one is on the disk before the next is typed."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Final

import msgspec

from core.bench import BenchReading, Side, Took, take_lift_table
from core.engine import read_lift_rows
from core.errors import InputError, OutOfRangeError
from core.session import Book
from core.units import format_number, read_number
from tui.subject import Subject

__all__ = ["LiftDraft", "find_draft", "read_row", "rows_of_file"]

Row = tuple[float, float]
"""Crank degrees after the top between exhaust and intake, and lift in the draft's unit."""

_UNITS: Final = {"mm": 1e-3, "thou": 25.4e-6}  # m
_MOST: Final = 0.015  # m of lift; hard
_UNUSUAL: Final = 0.010  # m; asked about
_TURN: Final = 720.0  # crank degrees
_HEAD: Final = re.compile(r"^# (intake|exhaust) (lobe|valve) (mm|thou), unfinished$")
_LONGEST: Final = 200_000  # bytes of a file


@dataclass(frozen=True)
class LiftDraft:
    """A table that is not finished."""

    id: str  # of the bench reading that it is and becomes
    side: Side
    at: datetime  # when it was begun
    rows: tuple[Row, ...] = ()  # by angle
    unit: str = "mm"  # of the lifts
    at_valve: bool = False  # the dial gauge stood at the valve, not at the lobe

    def with_row(self, row: Row) -> LiftDraft:
        """Return it with a row; one at the same angle is replaced."""
        others = [one for one in self.rows if one[0] != row[0]]
        return replace(self, rows=tuple(sorted((*others, row))))

    def without(self, angle: float) -> LiftDraft:
        """Return it without the row at an angle."""
        return replace(self, rows=tuple(one for one in self.rows if one[0] != angle))

    @property
    def place(self) -> str:
        """Where the dial gauge stood."""
        return "valve" if self.at_valve else "lobe"

    @property
    def text(self) -> str:
        """The rows as a file would hold them."""
        head = f"degrees; lift {self.unit}"
        return "\n".join((head, *(f"{angle:.10g}; {lift:.10g}" for angle, lift in self.rows)))

    def kept(self, subject: Subject) -> BenchReading:
        """Return the document that keeps the rows until the table is finished."""
        told = f"# {self.side} {self.place} {self.unit}, unfinished\n{self.text}"
        whose = subject.id if subject.is_machine else ""
        return BenchReading(
            id=self.id, what="lift table", at=self.at, text=told, machine=whose,
            part="" if whose else subject.id,
        )  # fmt: skip

    def finished(
        self, book: Book, subject: Subject, ratio: float | None = None, lash: float | None = None
    ) -> Took:
        """Return the table as a bench reading.

        Raises:
            InputError: the rows do not rise and fall once, or belong to the other side.
        """
        took = take_lift_table(
            self.text,
            self.side,
            subject.about(book, self.at),
            measured_at="valve" if self.at_valve else "lobe",
            unit=self.unit,
            rocker_ratio=ratio,
            lash=lash,
        )
        return replace(took, reading=msgspec.structs.replace(took.reading, id=self.id))


def find_draft(book: Book, subject: Subject, side: Side) -> LiftDraft:
    """Return the unfinished table of this side, or a new one."""
    for one in sorted(subject.past.taken, key=lambda reading: reading.at, reverse=True):
        head, _, rest = one.text.partition("\n")
        told = _HEAD.match(head)
        if one.what != "lift table" or one.lift is not None or told is None or told[1] != side:
            continue
        found = read_lift_rows(rest, told[3])
        rows = tuple(
            (angle, round(lift / _UNITS[told[3]], 9))
            for angle, lift in zip(found.angles, found.lifts, strict=True)
        )
        if rows:
            return LiftDraft(one.id, side, one.at, rows, told[3], told[2] == "valve")
    return LiftDraft(book.fresh_id(), side, book.clock())


def read_row(text: str, unit: str) -> tuple[Row, str]:
    """Return a row that was typed, and a question when it is an unusual one.

    Args:
        text: crank degrees and lift with a blank between them: ``104 5.80`` or ``104 5,80``.
        unit: of the lift: mm or thou.

    Raises:
        InputError: not two numbers.
        OutOfRangeError: no crank angle, or no lift of such an engine.
    """
    words = re.split(r"[;\s]+", text.strip())
    if len(words) != 2:
        raise InputError("A row is two numbers: crank degrees, a blank, the lift. Such as 104 5.8.")
    angle, lift = (read_number(word) for word in words)
    if not -_TURN <= angle <= _TURN:
        raise OutOfRangeError(f"{angle:g}° is no crank angle: -720 to 720.")
    metres = lift * _UNITS[unit]
    if not 0 <= metres <= _MOST:
        raise OutOfRangeError(
            f"A lift of {format_number(lift)} {unit} cannot be: 0 to"
            f" {format_number(_MOST / _UNITS[unit], 0)} {unit}."
        )
    question = f"{format_number(lift)} {unit} is a high lift: sure? y or n"
    return (angle, lift), question if metres > _UNUSUAL else ""


def rows_of_file(path: str, draft: LiftDraft) -> LiftDraft:
    """Return the draft with the rows of a file instead of its own.

    Raises:
        InputError: it cannot be read, or a line of it is no row.
    """
    try:
        data = Path(path.strip()).expanduser().read_bytes()[: _LONGEST + 1]
        text = data.decode("utf-8-sig")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is no text in UTF-8"
        raise InputError(f"{path.strip() or 'That'} cannot be read ({reason}).") from error
    found = read_lift_rows(text, draft.unit)
    if found.rejected:
        line, reason = found.rejected[0]
        raise InputError(
            f"Line {line} is no row of crank degrees and lift ({reason}).",
            "Put it right, or begin it with # to leave it out.",
        )
    if not found.angles:
        raise InputError("There is no row of crank degrees and lift in it.")
    lifts = (round(lift / _UNITS[draft.unit], 9) for lift in found.lifts)
    return replace(draft, rows=tuple(zip(found.angles, lifts, strict=True)))
