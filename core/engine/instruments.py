"""What each instrument of the bench can tell apart, and how well the same hand repeats it."""

from __future__ import annotations

import math

import msgspec

from core.errors import NotFoundError
from core.guards import finite
from core.ranged import Ranged

__all__ = ["INSTRUMENTS", "Instrument", "find_instrument", "reading_range"]


class Instrument(msgspec.Struct, frozen=True):
    """One way to take a reading; the figures are defaults for the user to put right."""

    key: str
    words: str  # as shown
    resolution: float  # smallest step, SI unit of what it reads
    repeatability: float  # one standard deviation of the same person doing it again, same unit


INSTRUMENTS: tuple[Instrument, ...] = (
    # figures: common practice, no source
    Instrument("bore_gauge", "bore gauge", 10e-6, 10e-6),
    Instrument("micrometer", "micrometer", 10e-6, 20e-6),
    Instrument("calliper", "calliper", 10e-6, 100e-6),
    Instrument("dial_gauge", "dial gauge", 10e-6, 20e-6),
    Instrument("light_springs", "light springs and dial gauge", 10e-6, 50e-6),
    Instrument("clay", "clay", 100e-6, 200e-6),
    Instrument("feeler", "feeler gauges", 20e-6, 20e-6),
    Instrument("ring_feeler", "feeler gauges in a ring gap", 50e-6, 30e-6),
    Instrument("wire", "wire or feeler past an edge", 50e-6, 100e-6),
    Instrument("gauging_strip", "gauging strip", 25e-6, 25e-6),
    Instrument("burette", "burette and plate", 0.1e-6, 0.2e-6),
    Instrument("tape", "tape over three turns", 1e-3, 3e-3),
    Instrument("degree_wheel", "degree wheel", 0.5, 1.5),
    Instrument("tachometer", "tachometer", 50.0, 80.0),
    Instrument("scales", "scales", 0.5, 0.5),
    Instrument("pressure_gauge", "tyre gauge", 2e3, 3e3),
    Instrument("thermometer", "thermometer", 0.5, 0.5),
    Instrument("barometer", "barometer", 100.0, 100.0),
    Instrument("hygrometer", "hygrometer", 0.01, 0.03),
)


def find_instrument(key: str) -> Instrument:
    """Return the instrument of that key.

    Raises:
        NotFoundError: there is none.

    >>> find_instrument("burette").words
    'burette and plate'
    """
    for one in INSTRUMENTS:
        if one.key == key:
            return one
    raise NotFoundError(f"“{key}” is not an instrument on the list.")


def reading_range(value: float, instrument: Instrument, times: int = 1) -> Ranged:
    """Return a reading with the range its instrument leaves.

    Args:
        value: as read, or the mean of several readings, SI.
        instrument: it was taken with.
        times: how many readings were averaged, 1 or more.

    Returns:
        The value give or take ``sqrt(repeatability²/times + resolution²/12)``: about two in three
        readings done again fall inside.

    Raises:
        InputError: the value is no number.

    Source: repeatability and resolution as independent parts, ISO/IEC Guide 98-3:2008 (GUM) 4.3.7
    and 5.1.2 (from memory).

    >>> reading_range(22.5, Instrument("x", "x", 0.1, 0.2)).text(1)
    '22.5 (22.3 to 22.7)'
    """
    half = math.hypot(
        instrument.repeatability / math.sqrt(max(1, times)), instrument.resolution / math.sqrt(12)
    )
    return Ranged.within(finite("reading", value), half)
