"""Reading a lift table from text: one row per line, crank degrees and lift."""

from __future__ import annotations

import re

import msgspec

from core.engine.lift import LiftTable, MeasuredAt
from core.errors import InputError
from core.guards import shown

__all__ = ["LiftRows", "read_lift_rows"]

_LIFT_UNITS: dict[str, float] = {"mm": 1e-3, "in": 0.0254, "thou": 25.4e-6}  # m
_SEPARATOR = re.compile(r"[;\t]|,\s+|\s+|,")
_UNIT = re.compile(r"(?<![a-z])(mm|in|thou)(?![a-z])")
_MOST_LIFT = 0.030  # m; no lobe or valve of an engine this size lifts so far
_MOST_CHARACTERS = 200_000


class LiftRows(msgspec.Struct, frozen=True):
    """What a text held."""

    angles: tuple[float, ...]  # crank degrees
    lifts: tuple[float, ...]  # m
    rejected: tuple[tuple[int, str], ...]  # line number from 1, reason

    def table(self, measured_at: MeasuredAt = "lobe") -> LiftTable:
        """Return the rows as a table.

        Raises:
            InputError: the rows make no lift table, or lifts that must be in another unit.
        """
        table = LiftTable(self.angles, self.lifts, measured_at)
        if table.peak > _MOST_LIFT:
            raise InputError(
                f"The highest lift is {shown(table.peak, 'mm')}: that looks like another unit.",
                "Name the unit in a heading, such as: degrees, lift thou.",
            )
        return table


def _cells(line: str) -> list[str]:
    if ";" in line or "\t" in line:  # the comma is then a decimal one
        return [cell.strip().replace(",", ".") for cell in re.split(r"[;\t]", line)]
    return [cell for cell in _SEPARATOR.split(line.strip()) if cell]


def _row(line: str, scale: float) -> tuple[float, float] | str:
    cells = _cells(line)
    if len(cells) != 2:
        return f"{len(cells)} columns, not two"
    try:
        angle, lift = (float(cell) for cell in cells)
    except ValueError:
        return "not two numbers"
    return angle, lift * scale


def _named_unit(heading: str, unit: str) -> str:
    """Return the unit a heading names; in 'lift in mm' the little word is none."""
    named = _UNIT.findall(heading.lower())
    return next((one for one in named if one != "in"), named[0] if named else unit)


def read_lift_rows(text: str, unit: str = "mm") -> LiftRows:
    """Return the rows of a text with two columns: crank degrees and lift.

    Columns are parted by semicolon, tab, comma or space; with a semicolon or tab a decimal comma
    is taken. A first line of words is a heading and may name the unit: mm, in or thou. Empty lines
    and lines that start with # are passed over; any other line that is no row is kept with a
    reason.

    Args:
        text: at most 200,000 characters.
        unit: of the lift where the heading names none.

    Raises:
        InputError: the unit is not known, or the text is too long.

    >>> rows = read_lift_rows("deg; lift mm\\n-10; 0,05\\n0; 0,40\\n10; oops")
    >>> rows.angles, rows.rejected
    ((-10.0, 0.0), ((4, 'not two numbers'),))
    """
    if unit not in _LIFT_UNITS:
        raise InputError(f"“{unit}” is none of {', '.join(_LIFT_UNITS)}.")
    if len(text) > _MOST_CHARACTERS:
        raise InputError("The text is too long for a lift table.")
    scale = _LIFT_UNITS[unit]
    rows: list[tuple[float, float]] = []
    rejected: list[tuple[int, str]] = []
    heading_open = True
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        row = _row(line, scale)
        if isinstance(row, tuple):
            rows.append(row)
        elif heading_open and re.search(r"[A-Za-z]", line):
            scale = _LIFT_UNITS[_named_unit(line, unit)]
        else:
            rejected.append((number, row))
        heading_open = False
    angles, lifts = zip(*rows, strict=True) if rows else ((), ())
    return LiftRows(tuple(angles), tuple(lifts), tuple(rejected))
