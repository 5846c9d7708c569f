"""What air, wind, slope and rider a side of a comparison ran in, each with how well it is known."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from math import cos, radians, sqrt
from statistics import fmean

from core.attempts import AIR_GOOD_FOR, AirReading, usual_pressure
from core.attempts.air_line import COMPASS
from core.clock import to_utc
from core.session import Place, Session
from core.setup import Sheet, known_value
from core.verdict.results import BuildSide

__all__ = ["Conditions", "Known", "conditions_of", "matched"]

# How far a reading is off, as one standard deviation. Source of all: common practice, no source.
_READ = {"temperature": 0.7, "pressure": 1.5, "humidity": 5.0}  # °C, hPa, % relative
_PER_HOUR = {"temperature": 1.5, "pressure": 1.0, "humidity": 8.0}  # more for each hour away
_NOT_READ = {"temperature": 7.0, "pressure": 9.0, "humidity": 20.0}  # from day to day
_SEA_LEVEL = 1013.0  # hPa, where not even the height of the place is known
_USUAL = {"temperature": 15.0, "humidity": 60.0}
_WIND_READ, _WIND_SHARE = 0.3, 0.25  # m/s, and of the wind: it is not the same along a strip
_WIND_NOT_READ = 1.2  # m/s along the strip on a day that was fit for testing
_CROSS_SHARE = 0.35  # of a cross wind, that may blow along after all
_SLOPE_READ, _SLOPE_NOT_READ = 0.05, 0.3  # %
_LOAD_READ, _SAME_RIDER, _ANY_RIDER = 0.5, 1.0, 12.0  # kg
_USUAL_LOAD = 75.0  # kg, rider in gear


@dataclass(frozen=True)
class Known:
    """A value with one standard deviation of doubt."""

    value: float
    sd: float
    read: bool  # whether anybody read it; else it is what is usual


@dataclass(frozen=True)
class Conditions:
    """The conditions of one side, as means over its attempts."""

    temperature: Known  # °C
    pressure: Known  # hPa at the place
    humidity: Known  # % relative
    wind: Known  # m/s out of the first direction: head wind for a run that way
    slope: Known  # % rise towards the first direction
    load: Known  # kg, rider in gear and ballast
    age: float | None  # h from the attempts to the nearest reading; None: no reading or no times
    wind_far_from: bool = False  # a wind was read, but not where it came from

    def moved(self, name: str, known: Known) -> Conditions:
        """Return the same with one of its values, by name, replaced."""
        values = {**{field.name: getattr(self, field.name) for field in fields(self)}, name: known}
        return Conditions(**values)

    @property
    def air_read(self) -> bool:
        """Whether the air is known well enough to allow for it."""
        return self.temperature.read


def conditions_of(
    session: Session, side: BuildSide, sheet: Sheet, place: Place | None
) -> Conditions:
    """Return the conditions that a side ran in.

    Args:
        session: the one of the side.
        side: its attempts.
        sheet: its setup sheet, for rider and ballast.
        place: where it ran; None: not told.

    A value between two readings lies on the line between them. What nobody read is what is usual,
    with a doubt to match.
    """
    times = _times(session, side)
    age = _age(session.air, times)
    late = max(0.0, (age or 0.0) - AIR_GOOD_FOR.total_seconds() / 3600.0)
    air = {
        name: _at(session.air, times, name, late, place)
        for name in ("temperature", "pressure", "humidity")
    }
    wind, unknown = _wind(session, times)
    return Conditions(
        **air,
        wind=wind,
        slope=_slope(place),
        load=_load(sheet),
        age=age,
        wind_far_from=unknown,
    )


def _times(session: Session, side: BuildSide) -> list[float]:
    """When the side's attempts ran, in hours."""
    numbers = {n for group in side.attempts for n in group}
    return [
        to_utc(a.at).timestamp() / 3600.0
        for a in session.attempts
        if a.n in numbers and a.at is not None
    ]


def _hour(reading: AirReading) -> float:
    return to_utc(reading.observed).timestamp() / 3600.0


def _age(readings: Sequence[AirReading], times: Sequence[float]) -> float | None:
    if not readings or not times:
        return None
    return fmean(min(abs(time - _hour(one)) for one in readings) for time in times)


def _between(points: list[tuple[float, float]], time: float) -> float:
    """Value on the line between two readings; beyond the first and last the value of these."""
    before = [p for p in points if p[0] <= time]
    after = [p for p in points if p[0] >= time]
    if not before or not after:
        return (before[-1] if before else after[0])[1]
    (t0, v0), (t1, v1) = before[-1], after[0]
    return v0 if t1 == t0 else v0 + (v1 - v0) * (time - t0) / (t1 - t0)


def _mean(
    readings: Sequence[AirReading],
    times: Sequence[float],
    pick: Callable[[AirReading], float | None],
) -> float | None:
    points = sorted((_hour(r), v) for r in readings if (v := pick(r)) is not None)
    if not points:
        return None
    return fmean([_between(points, t) for t in times] or [value for _, value in points])


def _at(
    readings: Sequence[AirReading],
    times: Sequence[float],
    name: str,
    late: float,
    place: Place | None,
) -> Known:
    """One quantity of the air: as read, with more doubt the longer ago, or what is usual."""
    found = _mean(readings, times, lambda r: getattr(r, name))
    if found is not None:
        sd = min(_READ[name] + _PER_HOUR[name] * late, _NOT_READ[name])
        return Known(found, sd, True)
    if name != "pressure":
        return Known(_USUAL[name], _NOT_READ[name], False)
    if place is None or place.elevation is None:
        return Known(_SEA_LEVEL, _NOT_READ[name], False)
    return Known(usual_pressure(place.elevation), _NOT_READ[name], False)


def _wind(session: Session, times: Sequence[float]) -> tuple[Known, bool]:
    """Wind along the strip; and whether a wind was read that nobody knows the direction of."""
    readings = [r for r in session.air if r.wind is not None]
    if not readings:
        return Known(0.0, _WIND_NOT_READ, False), False
    parts = {id(r): _along(r, session.directions) for r in readings}
    value = _mean(readings, times, lambda r: parts[id(r)][0]) or 0.0
    sd = fmean(doubt for _, doubt, _ in parts.values())
    return Known(value, sd, True), any(lost for _, _, lost in parts.values())


def _along(reading: AirReading, directions: Sequence[str]) -> tuple[float, float, bool]:
    """Wind out of the first direction, its doubt, and whether its direction is not known."""
    speed, where = reading.wind or 0.0, reading.wind_from
    doubt = _WIND_READ + _WIND_SHARE * speed
    if where == "cross":
        return 0.0, _WIND_READ + _CROSS_SHARE * speed, False
    if directions and where in directions:
        return (speed if where == directions[0] else -speed), doubt, False
    if directions and where in COMPASS and directions[0] in COMPASS:
        steps = COMPASS.index(where) - COMPASS.index(directions[0])
        return speed * cos(radians(steps * 360.0 / len(COMPASS))), doubt, False
    return 0.0, sqrt(speed * speed / 2.0 + doubt * doubt), speed > 0.0


def _slope(place: Place | None) -> Known:
    if place is None or place.slope is None:
        return Known(0.0, _SLOPE_NOT_READ, False)
    return Known(place.slope, _SLOPE_READ, True)


def _load(sheet: Sheet) -> Known:
    rider = known_value(sheet.readings.get("rider_mass"))
    if rider is None:
        return Known(_USUAL_LOAD, _ANY_RIDER, False)
    ballast = known_value(sheet.readings.get("ballast")) or 0.0
    return Known(rider + ballast, _LOAD_READ, True)


def matched(
    a: Conditions,
    b: Conditions,
    *,
    same_rider: bool,
    same_day: bool = False,
) -> tuple[Conditions, Conditions]:
    """Return both with what only one side knows taken to be the same on the other.

    So an unknown adds doubt and no difference: a difference to a usual day would be made up.

    Args:
        a: of the earlier side.
        b: of the later one.
        same_rider: whether both say the same rider.
        same_day: on one day and place what nobody read is the same on both sides, and what was
            read came from one instrument, so that half of its doubt is in a difference, and none
            where there was one reading; a rider weighs what he weighed, unless weighed again.
    """
    for name in ("temperature", "pressure", "humidity", "wind"):
        one, other = getattr(a, name), getattr(b, name)
        if not (one.read and other.read):
            value = one.value if one.read else other.value
            sd = 0.0 if same_day else max(one.sd, other.sd)
            one, other = (Known(value, sd, known.read) for known in (one, other))
        elif same_day:
            share = 0.0 if one.value == other.value else 0.5
            one, other = (replace(known, sd=share * known.sd) for known in (one, other))
        a, b = a.moved(name, one), b.moved(name, other)
    loads = _loads(a.load, b.load, same_rider, same_day)
    return replace(a, load=loads[0]), replace(b, load=loads[1])


def _loads(a: Known, b: Known, same_rider: bool, same_day: bool) -> tuple[Known, Known]:
    if a.read and b.read:
        exact = same_day and a.value == b.value
        return (replace(a, sd=0.0), replace(b, sd=0.0)) if exact else (a, b)
    value = a.value if a.read else b.value if b.read else _USUAL_LOAD
    sd = (0.0 if same_day else _SAME_RIDER) if same_rider else _ANY_RIDER
    return Known(value, 0.0, a.read), Known(value, sd, b.read)
