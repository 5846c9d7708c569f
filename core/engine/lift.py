"""Lift tables from degree wheel and dial gauge: lift at an angle, and the shape of the lobe."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

import msgspec
from msgspec.structs import force_setattr

from core.errors import InputError, OutOfRangeError
from core.guards import finite, shown

__all__ = ["LiftTable", "MeasuredAt", "advanced_table"]

MeasuredAt = Literal["lobe", "valve"]

_CYCLE = 720.0  # crank degrees
_WIGGLE = 30e-6  # m; a dial gauge's scatter near the nose is no second rise
_BELOW_ZERO = 50e-6  # m; a dial may stand a little below its zero on the base circle


class LiftTable(msgspec.Struct, frozen=True):
    """Lift over crank angle, as read; rises at most once and falls at most once.

    Angles are crank degrees after the top between exhaust and intake (overlap top is 0), strictly
    increasing, spanning less than 720. Lifts are m.

    Raises:
        InputError: too few rows, columns of different length, angles that do not increase, a lift
            below zero, or a lift that rises again after it fell.
    """

    angles: tuple[float, ...]  # crank degrees after overlap top
    lifts: tuple[float, ...]  # m, where `measured_at` says
    measured_at: MeasuredAt = "lobe"
    slopes: tuple[float, ...] = ()  # m per degree at the rows; worked out, not handed in
    peak: float = 0.0  # the highest lift read, m; worked out, not handed in

    def __post_init__(self) -> None:
        _check_rows(self.angles, self.lifts)
        force_setattr(self, "lifts", tuple(max(0.0, lift) for lift in self.lifts))
        _check_shape(self.angles, self.lifts)
        force_setattr(self, "slopes", _slopes(self.angles, self.lifts))
        force_setattr(self, "peak", max(self.lifts))

    @property
    def peak_row(self) -> int:
        """Index of the first row with the highest lift."""
        return self.lifts.index(self.peak)

    @property
    def peak_angle(self) -> float:
        """Where the lift is highest, crank degrees: top of a parabola through the three top rows.

        Source: three-point interpolation; closed form.
        """
        i = self.peak_row
        last = i + self.lifts.count(self.peak) - 1
        if i == 0 or last == len(self.lifts) - 1:
            return self.angles[i]
        if last > i:
            return (self.angles[i] + self.angles[last]) / 2
        (x0, x1, x2), (y0, y1, y2) = self.angles[i - 1 : i + 2], self.lifts[i - 1 : i + 2]
        left, right = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
        return x1 + (left * (x2 - x1) + right * (x1 - x0)) / (left - right) / 2

    def lift(self, angle: float) -> float:
        """Return the lift at a crank angle, m, by a cubic through the rows, never below zero.

        Past an end of the table the end's lift is held, which cannot be too little: a lobe only
        falls away from there.

        Args:
            angle: crank degrees after overlap top; any number of turns.

        Raises:
            OutOfRangeError: past an end where the lift was still rising.

        Source: piecewise cubic Hermite with three-point slopes; closed form.

        >>> table = LiftTable((0, 10, 20, 30, 40), (0, 1e-3, 1.5e-3, 1e-3, 0))
        >>> round(table.lift(20) * 1000, 3), round(table.lift(740) * 1000, 3)
        (1.5, 1.5)
        """
        first, last = self.angles[0], self.angles[-1]
        at = first + (angle - first) % _CYCLE
        if at > last:
            return self._held(at)
        i = min(bisect_right(self.angles, at), len(self.angles) - 1) - 1
        width = self.angles[i + 1] - self.angles[i]
        u = (at - self.angles[i]) / width
        rest = 1 - u
        return max(
            0.0,
            rest * rest * ((1 + 2 * u) * self.lifts[i] + u * width * self.slopes[i])
            + u * u * ((3 - 2 * u) * self.lifts[i + 1] - rest * width * self.slopes[i + 1]),
        )

    def _held(self, at: float) -> float:
        nearer_last = at - self.angles[-1] <= self.angles[0] + _CYCLE - at
        end = self.lifts[-1] if nearer_last else self.lifts[0]
        if end >= self.peak - _WIGGLE:
            raise OutOfRangeError(
                f"The lift table ends at {self.angles[-1 if nearer_last else 0]:g}° with the valve"
                " still going up: the lift past that is unknown.",
                "Read on until the lift falls.",
            )
        return end


def advanced_table(table: LiftTable, degrees: float) -> LiftTable:
    """Return the table after the cam is moved to run earlier.

    Args:
        table: as read.
        degrees: crank degrees; above zero is earlier.

    Returns:
        The same lifts, each so many degrees earlier.

    Source: closed form.
    """
    shift = finite("cam advance", degrees)
    return LiftTable(tuple(a - shift for a in table.angles), table.lifts, table.measured_at)


def _check_rows(angles: Sequence[float], lifts: Sequence[float]) -> None:
    if len(angles) != len(lifts):
        raise InputError(f"The table has {len(angles)} angles but {len(lifts)} lifts.")
    if len(angles) < 4:
        raise InputError(f"The table has {len(angles)} rows: a lift table needs at least four.")
    for angle, lift in zip(angles, lifts, strict=True):
        finite("an angle of the table", angle)
        if finite("a lift of the table", lift) < -_BELOW_ZERO:
            raise InputError(f"Lift at {angle:g}° is {shown(lift, 'mm')}: it cannot be below zero.")
    for before, after in pairwise(angles):
        if after <= before:
            raise InputError(f"Angle {after:g}° follows {before:g}°: angles must increase.")
    if angles[-1] - angles[0] >= _CYCLE:
        raise InputError("The table spans 720° or more: one lobe opens once in 720°.")


def _check_shape(angles: Sequence[float], lifts: Sequence[float]) -> None:
    top = max(range(len(lifts)), key=lifts.__getitem__)
    if lifts[top] <= _WIGGLE:
        raise InputError("The table holds no lift: a lobe must rise and fall once.")
    for side, rising in ((range(top + 1), True), (range(len(lifts) - 1, top - 1, -1), False)):
        highest = 0.0
        for i in side:
            if lifts[i] < highest - _WIGGLE:
                word = "before" if rising else "after"
                raise InputError(
                    f"Lift at {angles[i]:g}° dips {word} the peak: a lobe must rise and fall once.",
                    "Look for a slipped dial, a wrong row, or a release bump to leave out.",
                )
            highest = max(highest, lifts[i])


def _slopes(angles: Sequence[float], lifts: Sequence[float]) -> tuple[float, ...]:
    steps = [
        (y1 - y0) / (x1 - x0)
        for x0, x1, y0, y1 in zip(angles, angles[1:], lifts, lifts[1:], strict=False)
    ]
    inner = []
    for i in range(1, len(angles) - 1):
        before, after = angles[i] - angles[i - 1], angles[i + 1] - angles[i]
        inner.append((steps[i - 1] * after + steps[i] * before) / (before + after))
    return (steps[0], *inner, steps[-1])
