"""Units at the edge: reading typed numbers with or without a unit, converting, writing them out.

Inside the tool every field has one documented unit; what was typed is kept beside it as text.
Factors come from Pint, loaded only when a conversion is needed.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from typing import Any

from core.errors import AmbiguousInputError, InputError

__all__ = [
    "UNITS",
    "Quantity",
    "Unit",
    "convert",
    "find_unit",
    "format_number",
    "read_number",
    "read_quantity",
]


@dataclass(frozen=True)
class Unit:
    """One unit that may be typed or shown."""

    symbol: str  # how it is written on screen
    pint: str  # what Pint calls it
    aliases: tuple[str, ...] = ()  # other ways to type it; letter case is ignored at the end
    least: float | None = None  # absolute zero, exact (BIPM, SI Brochure 2019); None: no such end


UNITS: tuple[Unit, ...] = (
    Unit("m", "meter", ("metre", "metres", "meter", "meters")),
    Unit("mm", "millimeter"),
    Unit("cm", "centimeter"),
    Unit("km", "kilometer"),
    Unit("in", "inch", ('"', "inch", "inches")),
    Unit("thou", "thou", ("mil", "mils")),
    Unit("ft", "foot", ("feet", "foot")),
    Unit("yd", "yard", ("yard", "yards")),
    Unit("mi", "mile", ("mile", "miles")),
    Unit("m²", "meter ** 2", ("m2",)),
    Unit("m³", "meter ** 3", ("m3",)),
    Unit("cm³", "centimeter ** 3", ("cc", "ccm", "cm3")),
    Unit("mm³", "millimeter ** 3", ("mm3",)),
    Unit("ml", "milliliter"),
    Unit("l", "liter", ("litre", "liter", "litres", "liters")),
    Unit("in³", "inch ** 3", ("in3", "cuin", "cu in")),
    Unit("ft³", "foot ** 3", ("ft3",)),
    Unit("gal", "gallon", ("us gal",)),
    Unit("fl oz", "fluid_ounce", ("floz",)),
    Unit("s", "second", ("sec", "secs")),
    Unit("min", "minute", ("minutes",)),
    Unit("h", "hour", ("hr", "hours", "hour")),
    Unit("d", "day", ("days", "day")),
    Unit("m/s", "meter / second", ("mps",)),
    Unit("km/h", "kilometer / hour", ("kmh", "kph")),
    Unit("mph", "mile / hour", ("mi/h",)),
    Unit("kn", "knot", ("knot", "knots", "kt")),
    Unit("ft/s", "foot / second", ("fps",)),
    Unit("m/s²", "meter / second ** 2", ("m/s2",)),
    Unit("kg", "kilogram"),
    Unit("g", "gram"),
    Unit("lb", "pound", ("lbs",)),
    Unit("oz", "ounce"),
    Unit("N", "newton"),
    Unit("kN", "kilonewton"),
    Unit("lbf", "pound_force"),
    Unit("kgf", "kilogram_force"),
    Unit("N/mm", "newton / millimeter"),
    Unit("lbf/in", "pound_force / inch", ("lb/in",)),
    Unit("N·m", "newton * meter", ("nm", "n.m", "n*m")),
    Unit("lbf·ft", "pound_force * foot", ("ft·lb", "ftlb", "ft-lb", "ft.lb", "lbft", "lb-ft")),
    Unit("lbf·in", "pound_force * inch", ("in·lb", "inlb", "in-lb", "in.lb", "lbin", "lb-in")),
    Unit("Pa", "pascal"),
    Unit("hPa", "hectopascal", ("mbar", "mb")),
    Unit("kPa", "kilopascal"),
    Unit("MPa", "megapascal"),
    Unit("bar", "bar"),
    Unit("psi", "pound_force_per_square_inch"),
    Unit("inHg", "inch_Hg", ('"hg', "in hg")),
    Unit("mmHg", "mmHg", ("torr",)),
    Unit("°C", "degree_Celsius", ("degC", "deg c", "c"), -273.15),
    Unit("°F", "degree_Fahrenheit", ("degF", "deg f", "f"), -459.67),
    Unit("K", "kelvin", (), 0.0),
    Unit("rpm", "revolution / minute", ("1/min", "/min", "rev/min")),
    Unit("deg", "degree", ("°",)),
    Unit("rad", "radian"),
    Unit("%", "percent", ("pct",)),
    Unit("Hz", "hertz"),
    Unit("W", "watt"),
    Unit("kW", "kilowatt"),
    Unit("hp", "horsepower", ("bhp",)),
    Unit("PS", "metric_horsepower"),
    Unit("kg/m³", "kilogram / meter ** 3", ("kg/m3",)),
    Unit("kg·m²", "kilogram * meter ** 2", ("kgm2", "kg m2", "kg*m2")),
    Unit("N·s²/m²", "newton * second ** 2 / meter ** 2", ("kg/m",)),
    Unit(":1", "dimensionless"),
    Unit("", "dimensionless"),
)


@dataclass(frozen=True)
class Quantity:
    """A number as it was typed, with the same number in the unit that was asked for."""

    value: float  # in the unit asked for
    text: str  # as typed, trimmed
    unit: str  # symbol of the unit typed, or of the one asked for when none was typed


@cache
def _by_spelling() -> dict[str, Unit]:
    table = {u.symbol: u for u in UNITS}
    for unit in UNITS:
        for name in (unit.symbol, *unit.aliases):
            table.setdefault(name, unit)
            table.setdefault(name.casefold(), unit)
    return table


def find_unit(name: str) -> Unit:
    """Return the unit of that symbol or alias; exact letter case wins over folded.

    Raises:
        InputError: no such unit.

    >>> find_unit("thou").symbol, find_unit("CC").symbol, find_unit("ft·lb").symbol
    ('thou', 'cm³', 'lbf·ft')
    """
    table = _by_spelling()
    word = name.strip()
    found = table.get(word) or table.get(word.casefold())
    if found is None:
        raise InputError(
            f"“{_short(word)}” is not a unit I know.", "Leave it off to use the usual one."
        )
    return found


@cache
def _registry() -> Any:
    import pint  # lazy: 0.25 s

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True, cache_folder=None)


@cache
def _line(from_pint: str, to_pint: str) -> tuple[float, float]:
    """Factor and offset of a conversion, both linear in the value."""
    registry = _registry()
    zero = registry.Quantity(0.0, from_pint).to(to_pint).magnitude
    one = registry.Quantity(1.0, from_pint).to(to_pint).magnitude
    return float(one - zero), float(zero)


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """Convert a value between two units of the same kind.

    Args:
        value: in ``from_unit``.
        from_unit: symbol or alias.
        to_unit: symbol or alias.

    Raises:
        InputError: an unknown unit, two units of different kinds, or colder than absolute zero.

    Source: factors of NIST SP 811 (2008), appendix B, as Pint holds them.

    >>> convert(48, "thou", "mm")
    1.2192
    """
    source, target = find_unit(from_unit), find_unit(to_unit)
    _refuse_too_cold(value, source)
    if source.pint == target.pint:
        return value
    from pint import DimensionalityError  # lazy: 0.25 s

    try:
        factor, offset = _line(source.pint, target.pint)
    except DimensionalityError:
        message = f"{source.symbol} cannot be turned into {target.symbol or 'a plain number'}."
        raise InputError(message) from None
    return _tidy(value * factor + offset)


def _refuse_too_cold(value: float, unit: Unit) -> None:
    if unit.least is not None and value < unit.least:
        told = f"{value:g} {unit.symbol} is colder than anything can be"
        raise InputError(f"{told}: absolute zero is {unit.least:g} {unit.symbol}.")


def _tidy(value: float) -> float:
    """Drop the last-bit noise of a conversion, so that 48 thou reads 1.2192 mm."""
    return float(f"{value:.14g}")


_NUMBER = re.compile(r"^[+\-−]?(\d+([.,]\d*)?|[.,]\d+)([eE][+\-]?\d+)?$")
_GROUPED = re.compile(r"^[+\-−]?\d{1,3}([,.' ]\d{3})+([.,]\d+)?$")


def read_number(text: str) -> float:
    """Read a typed number; a comma is a decimal comma.

    Raises:
        AmbiguousInputError: thousands separator and decimal mark cannot be told apart (1,234.5).
        InputError: not a number.

    >>> read_number("4,26"), read_number(" .048 "), read_number("−0.5")
    (4.26, 0.048, -0.5)
    """
    word = text.strip()
    if _NUMBER.match(word):
        value = float(word.replace(",", ".").replace("−", "-"))
        if math.isfinite(value):
            return value
    if _GROUPED.match(word) and "," in word:
        plain = word.replace("'", "").replace(" ", "")
        as_point = plain.replace(",", "")
        choices = (as_point,) if as_point.count(".") <= 1 else (plain.replace(".", ""),)
        raise AmbiguousInputError(
            f"“{word}” can be read in two ways; type it without a thousands separator.", choices
        )
    raise InputError(f"“{_short(word)}” is not a number.")


def _short(text: str, limit: int = 40) -> str:
    clean = "".join(c if c.isprintable() else "·" for c in text)
    return clean if len(clean) <= limit else clean[: limit - 1] + "…"


_VALUE_AND_UNIT = re.compile(r"^([+\-−]?[\d.,]+(?:[eE][+\-]?\d+)?)\s*(\D.*)?$")


def read_quantity(text: str, unit: str) -> Quantity:
    """Read a typed value that may carry its own unit.

    Args:
        text: such as ``1.22``, ``48 thou``, ``.048in``, ``30 inHg``.
        unit: symbol of the unit the field is kept in.

    Returns:
        The value in ``unit``, the text as typed and the unit typed.

    Raises:
        InputError: not a number, an unknown unit or one of another kind, below absolute zero.

    >>> read_quantity(".048in", "mm").value
    1.2192
    """
    word = text.strip()
    match = _VALUE_AND_UNIT.match(word)
    if match is None:
        raise InputError(f"“{_short(word)}” is not a number.")
    number, suffix = match.group(1), (match.group(2) or "").strip()
    value = read_number(number)
    if not suffix:
        kept = find_unit(unit)
        _refuse_too_cold(value, kept)
        return Quantity(value, word, kept.symbol)
    typed = find_unit(suffix)
    return Quantity(convert(value, typed.symbol, unit), word, typed.symbol)


_PLAINEST = 1e15  # from here on a number has more digits than anybody reads


def format_number(value: float, decimals: int | None = None) -> str:
    """Write a number plainly: fixed decimals, or up to four significant ones without tail zeros.

    Halves are rounded away from zero as on paper, after the noise of binary sums is dropped: a
    mean of 9.515 reads 9.52 also when it is a hair below that.

    >>> format_number(8.4662, 2), format_number(70.0), format_number(6500)
    ('8.47', '70', '6500')
    >>> format_number((9.53 + 9.495 + 9.52) / 3, 2)
    '9.52'
    >>> format_number(1e300, 2)
    '1e+300'
    """
    if abs(value) >= _PLAINEST:
        return f"{value:.6g}"
    if decimals is not None:
        step = Decimal(1).scaleb(-decimals)
        text = str(Decimal(repr(round(value, 9))).quantize(step, ROUND_HALF_UP))
        return text[1:] if text.startswith("-") and float(text) == 0 else text
    if value == round(value) and abs(value) < 1e9:
        return str(int(value))
    digits = max(4, len(str(int(abs(value)))))
    return f"{value:.{digits}g}"
