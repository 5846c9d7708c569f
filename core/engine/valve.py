"""From lobe to valve: rocker ratio, lash, and durations at a stated checking lift."""

from __future__ import annotations

from typing import Literal

import msgspec

from core.engine.lift import LiftTable, MeasuredAt
from core.errors import InputError
from core.guards import above_zero, not_negative, shown

__all__ = [
    "CheckedDuration",
    "checked_duration",
    "duration_difference",
    "lobe_lift_for",
    "lobe_table",
    "valve_lift",
]


class CheckedDuration(msgspec.Struct, frozen=True):
    """When a lift is passed on the way up and on the way down; good for that lift only."""

    opens: float  # crank degrees after overlap top
    closes: float  # crank degrees after overlap top
    duration: float  # crank degrees
    checking_lift: float  # m
    measured_at: MeasuredAt  # where that lift is read

    @property
    def centre(self) -> float:
        """Middle of the opening, crank degrees after overlap top."""
        return (self.opens + self.closes) / 2


def valve_lift(
    lobe_lift: float,
    rocker_ratio: float,
    lash: float,
    lash_at: Literal["valve", "pushrod"] = "valve",
) -> float:
    """Return the lift of the valve.

    Args:
        lobe_lift: m, zero or more.
        rocker_ratio: valve side over pushrod side, above zero.
        lash: gap, m, zero or more.
        lash_at: where the gap was measured; on the pushrod side it counts times the ratio.

    Returns:
        m; ``max(0, r h - lash)``.

    Raises:
        InputError: an input is refused.

    Source: closed form.

    >>> round(valve_lift(0.0065, 1.3, 0.00013) * 1000, 2)
    8.32
    """
    ratio = above_zero("rocker ratio", rocker_ratio)
    gap = not_negative("lash", lash, "mm") * (ratio if lash_at == "pushrod" else 1)
    return max(0.0, ratio * not_negative("lobe lift", lobe_lift, "mm") - gap)


def lobe_lift_for(lift: float, rocker_ratio: float, lash: float) -> float:
    """Return the lobe lift at which the valve stands at a lift.

    Args:
        lift: of the valve, m, zero or more.
        rocker_ratio: above zero.
        lash: at the valve, m, zero or more.

    Returns:
        m; ``(L + lash) / r``.

    Raises:
        InputError: an input is refused.

    Source: inverse of :func:`valve_lift`.

    >>> round(lobe_lift_for(0.001, 1.0, 0.0001) * 1000, 2)
    1.1
    """
    wanted = not_negative("valve lift", lift, "mm") + not_negative("lash", lash, "mm")
    return wanted / above_zero("rocker ratio", rocker_ratio)


def lobe_table(table: LiftTable, rocker_ratio: float, lash: float) -> LiftTable:
    """Return the table of lobe lift behind one that was read at the valve.

    Args:
        table: read at the valve.
        rocker_ratio: it was read with, above zero.
        lash: it was read with, m, zero or more; best taken up to zero.

    Returns:
        ``h = (L + lash)/r`` where the valve is off its seat; the rest is unknown and taken as 0.

    Raises:
        InputError: the table was read at the lobe, or an input is refused.

    Source: inverse of :func:`valve_lift`.
    """
    if table.measured_at != "valve":
        raise InputError("The table was read at the lobe already.")
    lifts = (lobe_lift_for(x, rocker_ratio, lash) if x > 0 else 0.0 for x in table.lifts)
    return LiftTable(table.angles, tuple(lifts), "lobe")


def _crossing(table: LiftTable, lift: float, rising: bool) -> float:
    top = table.peak_row
    rows = range(top, 0, -1) if rising else range(top, len(table.lifts) - 1)
    for i in rows:
        inner, outer = i, i - 1 if rising else i + 1
        if table.lifts[outer] <= lift <= table.lifts[inner] != table.lifts[outer]:
            share = (table.lifts[inner] - lift) / (table.lifts[inner] - table.lifts[outer])
            return table.angles[inner] + share * (table.angles[outer] - table.angles[inner])
    way = "up" if rising else "down"
    raise InputError(
        f"The table does not pass {shown(lift, 'mm')} on the way {way}: the duration is unknown.",
        "Read further rows on that side.",
    )


def checked_duration(
    table: LiftTable, checking_lift: float, rocker_ratio: float = 1.0, lash: float = 0.0
) -> CheckedDuration:
    """Return the duration at a checking lift, by straight lines between the rows.

    With the rocker ratio and lash left out, the checking lift is read where the table was. With
    them, the table is of lobe lift and the checking lift is one of the valve.

    Args:
        table: lift over crank angle.
        checking_lift: m, above zero and below the highest lift.
        rocker_ratio: above zero; only with a lobe table.
        lash: at the valve, m, zero or more; only with a lobe table.

    Returns:
        The two crossings and the degrees between them; on a table of 10 degree steps good to about
        0.6 degree against the true lobe.

    Raises:
        InputError: the lift is at or above the highest of the table, a crossing is missing, or a
            ratio or lash is given with a table read at the valve.

    Source: linear interpolation; closed form.

    >>> table = LiftTable((0, 10, 20, 30, 40), (0, 1e-3, 2e-3, 1e-3, 0))
    >>> found = checked_duration(table, 0.5e-3)
    >>> found.opens, found.closes, found.duration
    (5.0, 35.0, 30.0)
    """
    above_zero("checking lift", checking_lift, "mm")
    plain = rocker_ratio == 1.0 and lash == 0.0
    if table.measured_at == "valve" and not plain:
        raise InputError("The table was read at the valve: ratio and lash are in it already.")
    lift = lobe_lift_for(checking_lift, rocker_ratio, lash)
    if lift >= table.peak:
        raise InputError(
            f"Checking lift {shown(checking_lift, 'mm')} is not below the highest lift"
            f" of the table ({shown(table.peak, 'mm')})."
        )
    opens, closes = _crossing(table, lift, True), _crossing(table, lift, False)
    at: MeasuredAt = table.measured_at if plain else "valve"
    return CheckedDuration(opens, closes, closes - opens, checking_lift, at)


def duration_difference(a: CheckedDuration, b: CheckedDuration) -> float:
    """Return how much longer b is than a, crank degrees.

    Raises:
        InputError: they were read at different checking lifts or at different ends of the rocker.

    Source: numbers at different checking lifts are different quantities.
    """
    if a.measured_at != b.measured_at or abs(a.checking_lift - b.checking_lift) > 1e-6:
        one, other = (f"{shown(d.checking_lift, 'mm')} {d.measured_at} lift" for d in (a, b))
        raise InputError(
            f"One duration is at {one}, the other at {other}: they cannot be compared."
        )
    return b.duration - a.duration
