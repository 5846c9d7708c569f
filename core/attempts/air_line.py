"""One typed line of air and wind, in any order, taken apart into named parts."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from core.attempts.asking import quoted
from core.attempts.direction import read_direction
from core.errors import AmbiguousInputError, InputError, OutOfRangeError
from core.units import convert, find_unit, read_number

__all__ = ["COMPASS", "AirParts", "compass_point", "parse_line"]

_QUARTERS = (("N", "NNE", "NE", "ENE"), ("E", "ESE", "SE", "SSE"), ("S", "SSW", "SW", "WSW"))
COMPASS = (*(p for quarter in _QUARTERS for p in quarter), "W", "WNW", "NW", "NNW")


class AirParts(msgspec.Struct):
    """What a line or a report says; every part may be missing."""

    values: dict[str, float] = {}  # by name of a row of the kinds table
    wind_from: str = ""


class _Kind(msgspec.Struct, frozen=True):
    """One thing that can be typed."""

    words: str  # in a sentence
    unit: str  # it is kept in, and taken in when a label stands before a bare number
    low: float
    high: float
    hint: str = ""


_KINDS = {
    "temperature": _Kind("air temperature", "°C", -40, 55, "Type it with its unit, such as 65F."),
    "dew": _Kind("dew point", "°C", -60, 40),
    "pressure": _Kind("pressure", "hPa", 500, 1100),
    "reduced": _Kind("sea-level pressure", "hPa", 850, 1100),
    "humidity": _Kind("relative humidity", "%", 0, 100),
    "wind": _Kind("mean wind", "m/s", 0, 40),
    "gust": _Kind("gust", "m/s", 0, 60),
    "bearing": _Kind("wind direction", "deg", 0, 360),
}

_KIND_OF_UNIT = {
    **dict.fromkeys(("°C", "°F", "K"), "temperature"),
    **dict.fromkeys(("hPa", "kPa", "Pa", "inHg", "mmHg", "psi"), "pressure"),
    **dict.fromkeys(("m/s", "km/h", "mph", "kn", "ft/s"), "wind"),
    "%": "humidity",
    "deg": "bearing",
}

_LABELS = {
    **dict.fromkeys(("gust", "gusts", "gusting", "g"), "gust"),
    "wind": "wind",
    **dict.fromkeys(("dew", "dewpoint", "td"), "dew"),
    **dict.fromkeys(("temp", "temperature", "air"), "temperature"),
    **dict.fromkeys(("pressure", "baro", "station", "qfe"), "pressure"),
    **dict.fromkeys(("qnh", "q", "qff", "slp", "altimeter", "sealevel"), "reduced"),
    **dict.fromkeys(("rh", "humidity"), "humidity"),
}
# a label only narrows what a unit says: a gust is a speed, a dew point a temperature
_NARROWS = {"gust": "wind", "dew": "temperature", "reduced": "pressure"}
_FILLERS = frozenset(("from", "mean", "at", "about", "and", "the", "with", "point", "to"))

_SPELLINGS = (
    (re.compile(r"\b(in)[ .]*(hg)\b", re.IGNORECASE), "inHg"),
    (re.compile(r"(?:°|\bdeg(?:rees)?)\s*([CF])\b", re.IGNORECASE), r"°\1"),
    (re.compile(r"(\d)\s*deg(?:rees)?\s*([CF])\b", re.IGNORECASE), r"\1°\2"),
    (re.compile(r"\bkts\b|(?<=\d)kts\b", re.IGNORECASE), "kn"),
    (re.compile(r"\bsea[ -]level\b", re.IGNORECASE), "sealevel"),
)
_TOKEN = re.compile(
    r"(?P<number>[+\-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+))|(?P<word>[^\W\d_]+(?:/[^\W\d_]+)?|°[CF]?|%)"
    r"|(?P<gap>[\s,;]+)",
    re.IGNORECASE,
)


def _tokens(text: str) -> list[str]:
    for pattern, plain in _SPELLINGS:
        text = pattern.sub(plain, text)
    found: list[str] = []
    at = 0
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            raise InputError(f"{quoted(text[at:])} is not understood.", _HINT)
        if match["gap"] is None:
            found.append(match.group())
        at = match.end()
    return found


_HINT = "Such as 18C 1012hPa 55% 0.5m/s W gust 2."


def compass_point(bearing: float) -> str:
    """Return the compass point (one of 16) of a bearing in degrees.

    >>> compass_point(270), compass_point(350)
    ('W', 'N')
    """
    return COMPASS[round(bearing / 22.5) % 16]


def parse_line(text: str, directions: Sequence[str] = ()) -> AirParts:
    """Take a typed line of air and wind apart.

    Args:
        text: numbers with their units in any order; ``gust``, ``dew``, ``qnh`` or a wind direction
            in front of a number say what it is, and then the unit may be left off.
        directions: the place's two names, which may stand for where the wind comes from.

    Returns:
        The parts, in °C, hPa, % and m/s.

    Raises:
        AmbiguousInputError: inches or kilopascals typed as hPa; ``choices`` has the likely one.
        OutOfRangeError: a value no air on the ground has.
        InputError: a number without a unit, the same thing twice, or a word not understood.
    """
    tokens = _tokens(text)
    parts = AirParts()
    label = ""
    while tokens:
        token = tokens.pop(0)
        if token[-1].isdigit():
            kind, value = _quantity(token, tokens, label)
            _keep(parts, kind, value)
            label = ""
        elif token.casefold() in _LABELS:
            label = _LABELS[token.casefold()]
        elif token.casefold() not in _FILLERS:
            label = _direction(parts, token, directions)
    if label and label != "wind":
        raise InputError(f"There is no number behind {label}.", _HINT)
    return parts


def _quantity(number: str, tokens: list[str], label: str) -> tuple[str, float]:
    unit = _unit(tokens[0]) if tokens else ""
    if unit:
        tokens.pop(0)
    elif not label:
        raise InputError(f"{quoted(number)} has no unit: C, hPa, % or m/s?", _HINT)
    kind = _KIND_OF_UNIT[unit] if unit else label
    if _NARROWS.get(label) == kind:
        kind = label
    row = _KINDS[kind]
    value = read_number(number)
    return kind, _checked(kind, convert(value, unit or row.unit, row.unit), unit or row.unit)


def _unit(word: str) -> str:
    """Return the symbol, if the word is a unit of the air; N, E, S, W and g are none here."""
    try:
        symbol = find_unit(word).symbol
    except InputError:
        return ""
    return symbol if symbol in _KIND_OF_UNIT else ""


# what a pressure typed as hPa is when it is far too low: inches or kilopascals of the usual size
_SLIPS = ((25.0, 33.0, "inHg"), (80.0, 110.0, "kPa"))


def _checked(kind: str, value: float, unit: str) -> float:
    row = _KINDS[kind]
    if kind in ("pressure", "reduced") and unit == "hPa":
        for low, high, meant in _SLIPS:
            if low <= value <= high:
                other = convert(value, meant, "hPa")
                raise AmbiguousInputError(
                    f"{value:g} hPa is far too low; is it {value:g} {meant} ({other:.1f} hPa)?",
                    (f"{value:g}{meant}",),
                    "Type the unit with the number.",
                )
    if not row.low <= value <= row.high:
        raise OutOfRangeError(
            f"{row.words.capitalize()} is {value:.4g} {row.unit}: it must lie between"
            f" {row.low:g} and {row.high:g} {row.unit}.",
            row.hint,
        )
    return value


def _keep(parts: AirParts, kind: str, value: float) -> None:
    if kind == "bearing":
        _from(parts, compass_point(value))
        return
    if kind in parts.values:
        raise InputError(f"There are two values for {_KINDS[kind].words}.", _HINT)
    parts.values[kind] = value


def _from(parts: AirParts, name: str) -> None:
    if parts.wind_from not in ("", name):
        raise InputError(f"The wind comes from {parts.wind_from} or {name}, not both.")
    parts.wind_from = name


def _direction(parts: AirParts, word: str, directions: Sequence[str]) -> str:
    """Read a word about the wind; return the label that it puts on a bare number behind it."""
    plain = word.casefold()
    if plain == "calm":
        _keep(parts, "wind", 0.0)
        return ""
    if plain in ("cross", "crosswind"):
        _from(parts, "cross")
    elif word.upper() in COMPASS:
        _from(parts, word.upper())
    elif plain not in ("variable", "vrb"):
        try:
            _from(parts, read_direction(word, directions) if directions else _known(word))
        except InputError:
            raise InputError(f"{quoted(word)} is not understood.", _HINT) from None
    return "wind"


def _known(word: str) -> str:
    name = read_direction(word)
    if name.upper() not in COMPASS:
        raise InputError(f"{quoted(word)} is no compass point.")
    return name
