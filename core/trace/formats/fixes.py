"""The kinds of sentences that make rows, read field by field for many sentences at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType
from typing import TYPE_CHECKING

from core.trace.formats.fix_table import COLUMNS, FixTable
from core.trace.formats.nmea import KNOT

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from core.trace.formats.sentences import Fields

    Places = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Marks = NDArray[np.bool_]

__all__ = ["KINDS"]

_A, _N, _S, _E, _W, _V = (ord(letter) for letter in "ANSEWV")

Read = Callable[["Fields", "Places"], tuple[FixTable, "Marks", "Marks"]]


def _seconds(clock: Floats) -> tuple[Floats, Marks]:
    """From hhmmss.ss to seconds of the day."""
    import numpy as np  # lazy: 0.1 s

    hour = np.floor(clock / 10000)
    minute = np.floor(clock / 100) - hour * 100
    second = clock - hour * 10000 - minute * 100
    good = (hour < 24) & (minute < 60) & (second < 61)
    return hour * 3600 + minute * 60 + second, good


def _degrees(
    value: Floats, side: NDArray[np.uint8], sides: tuple[int, int]
) -> tuple[Floats, Marks]:
    """From dddmm.mmm and a letter to degrees."""
    import numpy as np  # lazy: 0.1 s

    whole = np.floor(value / 100)
    minutes = value - whole * 100
    angle = whole + minutes / 60
    good = (minutes < 60) & (angle <= (90 if sides[0] == _N else 180))
    good &= (side == sides[0]) | (side == sides[1])
    return np.where(side == sides[1], -angle, angle), good


def _ordinals(dates: Floats) -> tuple[Floats, Marks]:
    """From ddmmyy to ordinals of days; years 69 to 99 are of the last century, as POSIX has it."""
    import numpy as np  # lazy: 0.1 s

    told, place = np.unique(dates, return_inverse=True)
    ordinals = np.full(len(told), np.nan)
    for index, number in enumerate(told):
        if not np.isnan(number):
            ordinals[index] = _ordinal(int(number))
    found = ordinals[place.reshape(-1)]
    return found, ~np.isnan(found)


def _ordinal(number: int) -> float:
    year = number % 100
    try:
        moment = date(year + (1900 if year >= 69 else 2000), number // 100 % 100, number // 10000)
    except ValueError:
        return float("nan")
    return float(moment.toordinal())


def _position(fields: Fields, first: int) -> tuple[Floats, Floats, Marks, Marks]:
    """Latitude and longitude of four fields, whether they are good, and whether they are there."""
    import numpy as np  # lazy: 0.1 s

    lat, lat_good = fields.numbers(first)
    lon, lon_good = fields.numbers(first + 2)
    there = ~(np.isnan(lat) & lat_good) & ~(np.isnan(lon) & lon_good)
    lat, north = _degrees(lat, fields.letters(first + 1), (_N, _S))
    lon, east = _degrees(lon, fields.letters(first + 3), (_E, _W))
    return lat, lon, lat_good & lon_good & (north & east | ~there), there


def _rmc(fields: Fields, line: Places) -> tuple[FixTable, Marks, Marks]:
    import numpy as np  # lazy: 0.1 s

    clock, clock_good = fields.numbers(1)
    second, time_good = _seconds(clock)
    status = fields.letters(2)
    lat, lon, place_good, there = _position(fields, 3)
    knots, speed_good = fields.numbers(7)
    course, course_good = fields.numbers(8)
    day, day_good = _ordinals(fields.numbers(9)[0])
    fixed = (status != _V) & there & (fields.letters(12) != _N)
    good = (fields.count >= 9) & clock_good & speed_good & course_good
    good &= (status == _A) & time_good & place_good & day_good & ~(knots < 0) | ~fixed
    values = _values(line, second=second, day=day, lat=lat, lon=lon)
    values |= {"speed": knots * KNOT, "heading": np.mod(course, 360.0)}
    return FixTable(line, values), good, fixed


def _gga(fields: Fields, line: Places) -> tuple[FixTable, Marks, Marks]:
    clock, clock_good = fields.numbers(1)
    second, time_good = _seconds(clock)
    lat, lon, place_good, there = _position(fields, 2)
    quality, quality_good = fields.numbers(6)
    satellites, _ = fields.numbers(7)
    hdop, _ = fields.numbers(8)
    fixed = there & (quality > 0)
    good = (fields.count >= 8) & clock_good & quality_good & (time_good & place_good | ~fixed)
    values = _values(line, second=second, lat=lat, lon=lon, satellites=satellites, hdop=hdop)
    return FixTable(line, values), good, fixed


def _vtg(fields: Fields, line: Places) -> tuple[FixTable, Marks, Marks]:
    import numpy as np  # lazy: 0.1 s

    course, course_good = fields.numbers(1)
    knots, knots_good = fields.numbers(5)
    kmh, kmh_good = fields.numbers(7)
    speed = np.where(np.isnan(knots), kmh / 3.6, knots * KNOT)
    fixed = ~np.isnan(speed)
    good = course_good & knots_good & kmh_good & ~(speed < 0)
    return FixTable(line, _values(line, speed=speed, heading=np.mod(course, 360.0))), good, fixed


def _values(line: Places, **told: Floats) -> dict[str, Floats]:
    import numpy as np  # lazy: 0.1 s

    return {name: told.get(name, np.full(len(line), np.nan)) for name in COLUMNS}


KINDS: Mapping[str, Read] = MappingProxyType({"RMC": _rmc, "GGA": _gga, "VTG": _vtg})
"""How each kind is read: its table, whether each line is sound, whether there was a fix."""
