"""Whether a speed that was typed without a unit is one in miles an hour, by the gearing."""

from __future__ import annotations

from typing import Final

from core.attempts import Entered, Test, write_value
from core.errors import AmbiguousInputError, BackToBackError
from core.setup import Sheet, known_value, lowest_limit, rpm_at_speed

__all__ = ["need_speed_unit"]

_MPH: Final = 1.609344  # km/h, exactly: NIST SP 811, 2008, appendix B
_LITTLE: Final = 0.75  # of the planned rpm: a top speed that ends lower is asked about; own choice
_ROOM: Final = 1.1  # slip, and a plan that was gone beyond


def need_speed_unit(
    entered: Entered, test: Test, sheet: Sheet, usual: tuple[float, float] | None = None
) -> None:
    """Ask when a speed without a unit fits the machine only if it is one in mph.

    Held against what this build did so far, or else, for a top speed, against its gearing.

    Args:
        entered: as typed.
        test: the test it is of.
        sheet: the setup sheet it ran on.
        usual: lowest and highest of this build so far, km/h; None: not known.

    Raises:
        AmbiguousInputError: ``choices`` has it in both units.
    """
    if test.unit != "km/h" or entered.value is None or entered.unit:
        return
    rpm = _rpm(sheet, entered.value)
    if usual is not None:
        if not _fits_the_others(entered.value, usual):
            return
    elif rpm is None or test.shape != "top" or not _fits_the_gearing(rpm, sheet):
        return
    shown = write_value(entered.value, test)
    why = f"is only {rpm:,.0f} rpm here" if rpm is not None else "is far below the others"
    raise AmbiguousInputError(
        f"{shown} km/h {why}: mph?", (f"{shown} mph", f"{shown} km/h"), "Type it with its unit."
    )


def _rpm(sheet: Sheet, speed: float) -> float | None:
    """Return the engine speed at a road speed, or None where the gearing is not known."""
    try:
        return rpm_at_speed(sheet, speed)
    except BackToBackError:
        return None


def _fits_the_others(value: float, usual: tuple[float, float]) -> bool:
    """Tell whether a speed is far below the others, and among them as mph."""
    low, high = usual
    return value < low / _ROOM and low / _ROOM <= value * _MPH <= high * _ROOM


def _fits_the_gearing(rpm: float, sheet: Sheet) -> bool:
    """Tell whether an engine speed is far below what it is planned for, and not as mph."""
    planned = known_value(sheet.readings.get("planned_rpm")) or lowest_limit(sheet).entered
    if planned is None:
        return False
    return rpm <= _LITTLE * planned and rpm * _MPH <= _ROOM * planned
