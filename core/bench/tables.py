"""Lift tables kept from the bench, and which of them belong to the cam on a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from core.bench.documents import BenchReading, LiftTaken, Side
from core.bench.taking import About, Took, bench_reading
from core.engine import LiftTable, MeasuredAt, lobe_table, read_lift_rows
from core.errors import InputError
from core.setup import Sheet, known_value, same_reading

__all__ = ["LiftTables", "TableOnFile", "lobe_of", "tables_for", "take_lift_table"]

_MM = 1e-3  # m in a mm
_CYCLE = 720.0  # crank degrees
_SIDES: tuple[Side, Side] = ("intake", "exhaust")


@dataclass(frozen=True)
class TableOnFile:
    """The lobe lifts of one side as they were read."""

    table: LiftTable  # of lobe lift
    centre: float | None = None  # installed intake centre when it was read, crank degrees
    at: datetime | None = None
    reading: str = ""  # id of the bench reading


@dataclass(frozen=True)
class LiftTables:
    """The tables of a cam, as far as they were read."""

    intake: TableOnFile | None = None
    exhaust: TableOnFile | None = None

    @property
    def sides(self) -> tuple[TableOnFile | None, TableOnFile | None]:
        """Both, intake first."""
        return (self.intake, self.exhaust)


def take_lift_table(
    rows: str,
    side: Side,
    about: About,
    *,
    measured_at: MeasuredAt = "lobe",
    unit: str = "mm",
    rocker_ratio: float | None = None,
    lash: float | None = None,
) -> Took:
    """Return a lift table from rows typed or of a file, as a bench reading.

    Args:
        rows: crank degrees after the top between exhaust and intake, and lift, one row a line.
        side: intake or exhaust.
        about: what else is told; the sheet tells the cam it belongs to and where that stands.
        measured_at: where the dial gauge stood.
        unit: of the lift where the heading names none: mm, in or thou.
        rocker_ratio: it was read with, when at the valve; None: the sheet's.
        lash: mm it was read with, when at the valve; None: taken up.

    Raises:
        InputError: a line is no row, the lifts do not rise and fall once, the peak belongs to the
            other side, or a table read at the valve without a rocker ratio.
    """
    found = read_lift_rows(rows, unit)
    if found.rejected:
        line, reason = found.rejected[0]
        raise InputError(
            f"Line {line} is no row of crank degrees and lift ({reason}).",
            "Put it right, or begin it with # to leave it out.",
        )
    table = found.table(measured_at)
    _check_side(table, side)
    at_valve = measured_at == "valve"
    taken = LiftTaken(
        side=side,
        angles=table.angles,
        lifts=tuple(round(lift / _MM, 6) for lift in table.lifts),
        measured_at=measured_at,
        rocker_ratio=_ratio_read_with(rocker_ratio, about.sheet) if at_valve else None,
        lash=(lash or 0.0) if at_valve else None,
    )
    lobe_of(taken)
    return Took(bench_reading(about, "lift table", rows, lift=taken))


def _ratio_read_with(told: float | None, sheet: Sheet | None) -> float:
    found = known_value(sheet.readings.get("rocker_ratio")) if told is None and sheet else told
    if found is None:
        raise InputError("A table read at the valve needs the rocker ratio it was read with.")
    return found


def _check_side(table: LiftTable, side: Side) -> None:
    """Refuse a table whose peak lies where the other valve opens, or the engine is firing."""
    peak = (table.peak_angle + _CYCLE / 2) % _CYCLE - _CYCLE / 2
    low, high = (0.0, 180.0) if side == "intake" else (-180.0, 0.0)
    if not low < peak < high:
        where = "after" if side == "intake" else "before"
        raise InputError(
            f"The highest lift is at {table.peak_angle:g}°: that of the {side} valve lies within"
            f" 180° {where} the top between exhaust and intake.",
            "Count the angles from the top at which both valves are a little open.",
        )


def lobe_of(taken: LiftTaken) -> LiftTable:
    """Return the lobe lifts of a table that was kept.

    Raises:
        InputError: the rows make no table.
    """
    lifts = tuple(lift * _MM for lift in taken.lifts)
    table = LiftTable(taken.angles, lifts, taken.measured_at)
    if taken.measured_at == "lobe":
        return table
    return lobe_table(table, taken.rocker_ratio or 1.0, (taken.lash or 0.0) * _MM)


def tables_for(sheet: Sheet, taken: Iterable[BenchReading]) -> LiftTables:
    """Return the newest table of each side that was read on the cam of a sheet.

    Args:
        sheet: as the machine stands.
        taken: bench readings of the machine, or of the loose engine that is on it.
    """
    found: dict[str, TableOnFile] = {}
    for one in sorted(taken, key=lambda reading: (reading.at, reading.id)):
        if one.lift is None:
            continue
        if not same_reading(one.around.get("cam"), sheet.readings.get("cam")):
            continue
        centre = known_value(one.around.get("cam_centre"))
        found[one.lift.side] = TableOnFile(lobe_of(one.lift), centre, one.at, one.id)
    return LiftTables(*(found.get(side) for side in _SIDES))
