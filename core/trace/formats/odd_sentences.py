"""One line that is no plain sentence: what pynmea2 makes of it, or why it is left out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from core.trace.formats.nmea import KNOT, checked_fields
from core.trace.formats.rejects import NO_FIX

__all__ = ["Odd", "read_odd"]


@dataclass(frozen=True)
class Odd:
    """What became of the line; without fix and reason it is a sentence of no use here."""

    fix: tuple[str, Mapping[str, float]] | None = None  # kind and values, as in `FixTable`
    kind: str = ""  # what it is counted under, when it is left out
    reason: str = ""  # one sentence, when it is left out


_SENTENCE = re.compile(r"\$[^$*]*\*[0-9A-Fa-f]{2}")
_BEGUN = re.compile(r"\$[A-Z]{2}[A-Z]{3},|\$P[A-Z]{3}")
_SHOWN = 40  # characters of a line that a reason shows


def read_odd(text: str) -> Odd:
    """Look at one line: a sentence behind other text is taken, if its checksum is right.

    Args:
        text: the line.
    """
    from core.errors import InputError

    found = _SENTENCE.findall(text)
    if len(found) != 1:
        return _no_sentence(text, len(found))
    try:
        fields = checked_fields(found[0])
    except InputError as error:
        return Odd(kind="checksum", reason=error.message)
    if fields[0][-3:] not in ("RMC", "GGA", "VTG"):
        return Odd()
    return _parsed(found[0])


def _no_sentence(text: str, count: int) -> Odd:
    shown = repr(text[:_SHOWN])[1:-1]
    if count > 1:
        return Odd(kind="no sentence", reason=f"“{shown}” holds {count} sentences run together.")
    if text[:1] in "!$" and "*" not in text and _BEGUN.match(text):
        return Odd(kind="no checksum", reason=f"“{shown}” has no checksum, or was cut off.")
    return Odd(kind="no sentence", reason=f"“{shown}” is no sentence.")


def _parsed(sentence: str) -> Odd:
    """Let pynmea2 read the sentence; its refusals and gaps become reasons."""
    import pynmea2  # lazy: 40 ms

    try:
        said: Any = pynmea2.parse(sentence, check=True)
        kind = said.sentence_type
        values = {"RMC": _rmc, "GGA": _gga, "VTG": _vtg}[kind](said)
    except (ValueError, TypeError, AttributeError, IndexError, ArithmeticError) as error:
        return Odd(kind="field", reason=f"A field cannot be read: {_words(error)}.")
    if values is None:
        return Odd(kind=NO_FIX, reason="The receiver had no position (status V or quality 0).")
    wrong = _wrong(values)
    return Odd(kind="field", reason=wrong) if wrong else Odd((kind, values))


def _words(error: Exception) -> str:
    told = error.args[0] if error.args else type(error).__name__
    return str(told[0] if isinstance(told, tuple) else told).rstrip(".")[:120]


def _rmc(said: Any) -> dict[str, float] | None:
    if said.status != "A" or not (said.lat and said.lon):
        return None
    return {
        "second": _second(said.timestamp),
        "day": float(said.datestamp.toordinal()),
        **_position(said),
        **({"speed": float(said.spd_over_grnd) * KNOT} if said.spd_over_grnd is not None else {}),
        **({"heading": float(said.true_course) % 360} if said.true_course is not None else {}),
    }


def _gga(said: Any) -> dict[str, float] | None:
    if not said.gps_qual or not (said.lat and said.lon):
        return None
    return {"second": _second(said.timestamp), **_position(said)}


def _vtg(said: Any) -> dict[str, float] | None:
    if said.spd_over_grnd_kts is None:
        return None
    return {"speed": float(said.spd_over_grnd_kts) * KNOT}


def _position(said: Any) -> dict[str, float]:
    if said.lat_dir not in ("N", "S") or said.lon_dir not in ("E", "W"):
        raise ValueError("a position without its side")
    return {"lat": said.latitude, "lon": said.longitude}


def _second(clock: Any) -> float:
    return float(clock.hour * 3600 + clock.minute * 60 + clock.second + clock.microsecond / 1e6)


def _wrong(values: Mapping[str, float]) -> str:
    """What cannot be, though it could be read."""
    if abs(values.get("lat", 0.0)) > 90 or abs(values.get("lon", 0.0)) > 180:
        return "The position is off the globe."
    if values.get("speed", 0.0) < 0:
        return "The speed is below zero."
    return ""
