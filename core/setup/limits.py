"""Rpm limits as their makers state them, what is not entered, and road speed against rpm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.drive import rpm as rpm_of_speed
from core.drive import speed as speed_of_rpm
from core.engine import relative_rod_load
from core.errors import UnknownInputError
from core.setup.readings import known_value
from core.setup.sheets import Sheet
from core.setup.slots import slot_of
from core.setup.sums import gear_inputs, gear_ratio, no_fixed_ratio

__all__ = [
    "FACTORY_RPM",
    "LIMITS",
    "LowestLimit",
    "lowest_limit",
    "over_speed_words",
    "rpm_at_speed",
    "speed_at_rpm",
]

FACTORY_RPM = 3600.0  # where governed engines of this kind run; common practice, no source

LIMITS: dict[str, str] = {
    "rod_rpm_limit": "rod",
    "flywheel_rpm_limit": "flywheel",
    "valve_train_rpm_limit": "valve train",
    "clutch_rpm_limit": "clutch",
}
"""The limits that count, by slot, as they are said."""

_KMH = 3.6  # km/h in a m/s


@dataclass(frozen=True)
class LowestLimit:
    """The lowest rpm limit of a sheet."""

    rpm: float  # with those not entered counted as the factory speed
    entered: float | None  # lowest of those entered, rpm; None: none was
    entered_for: str  # what that one belongs to: ``rod``
    slots: tuple[str, ...]  # that count on this sheet
    not_entered: tuple[str, ...]  # slot ids of those without a number


def lowest_limit(sheet: Sheet, rpm_factory: float = FACTORY_RPM) -> LowestLimit:
    """Return the lowest rpm limit of rod, flywheel, valve train and clutch.

    Args:
        sheet: a limit that is unknown, bounded, stale or not recorded counts as ``rpm_factory``;
            one said to be not fitted does not count.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
    """
    counted = {slot: known_value(sheet.readings.get(slot)) for slot in _fitted(sheet)}
    known = {slot: value for slot, value in counted.items() if value is not None}
    least = min(known, key=known.__getitem__, default="")
    missing = tuple(slot for slot, value in counted.items() if value is None)
    rpms = [*known.values(), *([rpm_factory] if missing or not known else [])]
    return LowestLimit(
        rpm=min(rpms),
        entered=known.get(least),
        entered_for=LIMITS.get(least, ""),
        slots=tuple(counted),
        not_entered=missing,
    )


def _fitted(sheet: Sheet) -> tuple[str, ...]:
    return tuple(
        slot
        for slot in LIMITS
        if (reading := sheet.readings.get(slot)) is None or reading.state != "not fitted"
    )


def over_speed_words(sheet: Sheet, rpm_factory: float = FACTORY_RPM) -> str:
    """Return what is said about over-speed: limits and load, never that a speed is safe.

    Args:
        sheet: with limits and planned rpm, as far as they are known.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
    """
    limit = lowest_limit(sheet, rpm_factory)
    factory = f"{rpm_factory:,.0f}"
    said = ["No rpm limit is entered."]
    if limit.entered is not None:
        times = relative_rod_load(limit.entered, rpm_factory)
        said = [
            f"Lowest limit you entered: {limit.entered:,.0f} ({limit.entered_for}).",
            f"Rod load at {limit.entered:,.0f} is {times:.1f} times that at {factory}.",
        ]
    if limit.not_entered:
        names = ", ".join(LIMITS[slot] for slot in limit.not_entered)
        said.append(f"Limits not entered: {names} - counted as {factory}.")
    planned = known_value(sheet.readings.get("planned_rpm"))
    if planned is not None and planned > limit.rpm:
        said.append(f"Planned {planned:,.0f} is above the lowest of these, {limit.rpm:,.0f}.")
    return " ".join(said)


def speed_at_rpm(sheet: Sheet, rpm: float, slip: float = 0.0) -> float:
    """Return the road speed at an engine speed, km/h.

    Args:
        sheet: with teeth and circumference.
        rpm: engine speed, 1/min, zero or more.
        slip: share lost, usually 0.02 to 0.03.

    Raises:
        UnknownInputError: teeth or circumference are not known; says which.
        InputError: an input is refused.
    """
    return _through_gears(sheet, lambda g, c: speed_of_rpm(rpm, g, c, slip) * _KMH)


def rpm_at_speed(sheet: Sheet, km_h: float, slip: float = 0.0) -> float:
    """Return the engine speed at a road speed, 1/min.

    Without slip the true engine speed is a few per cent higher.

    Args:
        sheet: with teeth and circumference.
        km_h: road speed, zero or more.
        slip: share lost, usually 0.02 to 0.03.

    Raises:
        UnknownInputError: teeth or circumference are not known; says which.
        InputError: an input is refused.
    """
    return _through_gears(sheet, lambda g, c: rpm_of_speed(km_h / _KMH, g, c, slip))


def _through_gears(sheet: Sheet, formula: Callable[[float, float], float]) -> float:
    refused = no_fixed_ratio(sheet)
    if refused:
        raise UnknownInputError(f"Unknown: {refused[0].lower()}{refused[1:]}", ("overall_ratio",))
    values = {
        slot: known_value(sheet.readings.get(slot))
        for slot in (*gear_inputs(sheet), "circumference")
    }
    missing = tuple(slot for slot, value in values.items() if value is None)
    if missing:
        names = ", ".join(slot_of(slot).label for slot in missing)
        raise UnknownInputError(f"Unknown: {names} not known.", missing)
    known = {slot: value for slot, value in values.items() if value is not None}
    circumference = known.pop("circumference")
    return formula(gear_ratio(**known), circumference)
