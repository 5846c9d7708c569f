"""What a refused or unusual number may have been meant as: another unit, or a slipped point."""

from __future__ import annotations

from core.setup.slots import Slot
from core.setup.words import plain_words
from core.units import convert, format_number

__all__ = ["offers"]

_OTHER_UNITS: dict[str, tuple[str, ...]] = {
    "mm": ("thou", "in"),
    "cm³": ("in³",),
    "kPa": ("psi", "bar"),
    "kg": ("lb",),
    "N": ("lbf", "kgf"),
    "N/mm": ("lbf/in",),
    "N·m": ("lbf·ft", "lbf·in"),
    "m": ("mm", "in", "cm"),
    "ml": ("l", "fl oz"),
    "l": ("ml", "gal"),
    "°C": ("°F",),
    "h": ("min",),
    "d": ("h",),
}
"""Units that such a value is often read in, by the slot's unit."""

_SHIFTS = (0.1, 0.01, 10.0, 100.0)  # a decimal point one or two places off
_MOST = 2  # offers made at once


def offers(slot: Slot, value: float) -> tuple[str, ...]:
    """Return what would make the number usual, most likely first; at most two.

    Args:
        slot: tells unit and usual range.
        value: as typed without a unit.

    >>> from core.setup.slots import find_slot
    >>> offers(find_slot("intake lash"), 4)
    ('4 thou (0.004 in) would be 0.10 mm',)
    """
    if slot.typical is None or value == 0:
        return ()
    other = [
        f"{_in_unit(value, unit)} would be {plain_words(slot, meant, slot.decimals)}"
        for unit in _OTHER_UNITS.get(slot.unit, ())
        if _usual(slot, meant := convert(value, unit, slot.unit))
    ]
    slipped = [
        f"{plain_words(slot, meant)} would be usual"
        for meant in (float(f"{value * shift:.12g}") for shift in _SHIFTS)
        if _usual(slot, meant)
    ]
    return tuple((*other, *slipped)[:_MOST])


def _in_unit(value: float, unit: str) -> str:
    inches = f" ({format_number(value / 1000)} in)" if unit == "thou" else ""
    return f"{format_number(value)} {unit}{inches}"


def _usual(slot: Slot, value: float) -> bool:
    return slot.typical is not None and slot.typical[0] <= value <= slot.typical[1]
