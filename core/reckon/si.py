"""Between the unit that a number is typed or shown in and the SI unit that formulas take.

The formulas take metres, kelvin, fractions, pascal; turns stay 1/min and angles stay degrees.
"""

from __future__ import annotations

from core.ranged import Ranged

__all__ = ["SCALES", "from_si", "range_from_si", "range_to_si", "to_si"]

SCALES: dict[str, tuple[float, float]] = {
    # symbol: (SI units in one of it, SI reading of its zero)
    "": (1.0, 0.0),
    ":1": (1.0, 0.0),
    "%": (0.01, 0.0),
    "mm": (1e-3, 0.0),
    "m": (1.0, 0.0),
    "m²": (1.0, 0.0),
    "cm³": (1e-6, 0.0),
    "deg": (1.0, 0.0),
    "rpm": (1.0, 0.0),
    "s": (1.0, 0.0),
    "m/s": (1.0, 0.0),
    "km/h": (1 / 3.6, 0.0),
    "m/s²": (1.0, 0.0),
    "kg": (1.0, 0.0),
    "kg/m³": (1.0, 0.0),
    "kg·m²": (1.0, 0.0),
    "N": (1.0, 0.0),
    "N·m": (1.0, 0.0),
    "N·s²/m²": (1.0, 0.0),
    "hPa": (100.0, 0.0),
    "kPa": (1000.0, 0.0),
    "MPa": (1e6, 0.0),
    "kW": (1000.0, 0.0),
    "°C": (1.0, 273.15),
}
"""Units of the register's inputs and outputs."""


def to_si(value: float, unit: str) -> float:
    """Return a number of this unit in SI.

    >>> to_si(70.0, "mm"), to_si(20.0, "°C"), to_si(50.0, "%")
    (0.07, 293.15, 0.5)
    """
    scale, zero = SCALES[unit]
    return value * scale + zero


def from_si(value: float, unit: str) -> float:
    """Return an SI number in this unit.

    >>> round(from_si(0.00135, "mm"), 9), from_si(293.15, "°C")
    (1.35, 20.0)
    """
    scale, zero = SCALES[unit]
    return (value - zero) / scale


def range_to_si(given: Ranged, unit: str) -> Ranged:
    """Return a range of this unit in SI."""
    return Ranged(*(to_si(x, unit) for x in (given.value, given.low, given.high)))


def range_from_si(found: Ranged, unit: str) -> Ranged:
    """Return an SI range in this unit."""
    return Ranged(*(from_si(x, unit) for x in (found.value, found.low, found.high)))
