"""Air and wind readings: typed on one line, when they are due, and what is beyond comparing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from typing import Literal

import msgspec

from core.air import pressure_from_altimeter, relative_humidity, standard_air
from core.air.checks import field_elevation
from core.attempts.air_line import AirParts, parse_line
from core.attempts.asking import Choice, Question
from core.attempts.documents import AirReading
from core.attempts.metar import is_report, read_report
from core.clock import to_utc
from core.errors import InputError, UnknownInputError

__all__ = [
    "AIR_GOOD_FOR",
    "GUST_LIMIT",
    "WIND_LIMIT",
    "AirDue",
    "air_due",
    "pressure_question",
    "read_air",
    "station_pressure",
    "usual_pressure",
    "wind_beyond",
    "wind_note",
]

AIR_GOOD_FOR = timedelta(minutes=45)  # common practice, no source
WIND_LIMIT = 3.0  # m/s mean at about 1.5 m height; common practice, no source
GUST_LIMIT = 5.0  # m/s; common practice, no source
_PRESSURE_SLACK = 0.015  # share of the usual pressure; 1.5 % is about 125 m of height


class AirDue(msgspec.Struct, frozen=True):
    """Whether the air should be read again."""

    state: Literal["fresh", "stale", "missing"]
    age: timedelta | None  # since it was observed; None: never
    words: str  # one line on screen


def read_air(
    text: str,
    observed: datetime,
    *,
    elevation: float | None = None,
    directions: Sequence[str] = (),
    entered: datetime | None = None,
    source: str = "",
) -> AirReading:
    """Read air and wind from one typed line, or from a pasted airfield report.

    Args:
        text: such as ``18C 1012hPa 55% 0.5m/s W gust 2`` in any order; a dew point (``dew 9C``)
            stands for the humidity, ``qnh 1013`` is a pressure reduced to sea level. Or a METAR
            line, whose pressure always is, and whose own time of observation is taken.
        observed: when it was read off; aware.
        elevation: m above sea level of the place; needed when the pressure is a reduced one.
        directions: the place's two names.
        entered: when it was typed, if later.
        source: where it is from, such as ``hand meter``.

    Returns:
        The reading. A pressure typed without ``qnh`` is taken as read at the place: ask
        :func:`pressure_question` about it before it is kept.

    Raises:
        UnknownInputError: a pressure reduced to sea level, and no elevation; or a dew point
            without a temperature.
        AmbiguousInputError: inHg or kPa typed as hPa.
        OutOfRangeError: a value no air on the ground has.
        InputError: not understood, a dew point above the temperature, a gust below the mean wind.

    >>> from datetime import UTC
    >>> at = datetime(2026, 4, 12, 10, tzinfo=UTC)
    >>> air = read_air("0.5m/s W 18C gust 2 1012hPa 55%", at)
    >>> air.temperature, air.pressure, air.humidity, air.wind, air.gust, air.wind_from
    (18.0, 1012.0, 55.0, 0.5, 2.0, 'W')
    """
    line = text.strip()
    if not line:
        raise InputError("Nothing was typed.")
    note = ""
    if is_report(line):
        report = read_report(line, observed)
        parts, source = report.parts, source or "airfield report"
        if report.observed is not None:
            entered, observed = entered or observed, report.observed.astimezone(observed.tzinfo)
        if "wind" in parts.values:
            note = "wind measured at 10 m height"
    else:
        parts = parse_line(line, directions)
    return _reading(
        parts,
        elevation,
        AirReading(observed=observed, entered=entered, source=source, text=line, note=note),
    )


def _reading(parts: AirParts, elevation: float | None, blank: AirReading) -> AirReading:
    found = parts.values
    wind, gust = found.get("wind"), found.get("gust")
    if wind is not None and gust is not None and gust < wind:
        raise InputError(f"A gust of {gust:g} m/s is below the mean wind of {wind:g} m/s.")
    pressure, note = found.get("pressure"), blank.note
    if pressure is None and "reduced" in found:
        if elevation is None:
            raise UnknownInputError(
                "That pressure is reduced to sea level: the elevation of the place is needed.",
                ("elevation",),
                "Enter the elevation of the place, or read the pressure there.",
            )
        pressure = round(station_pressure(found["reduced"], elevation), 2)
        told = f"pressure worked out from {found['reduced']:.1f} hPa at sea level"
        note = f"{note}; {told}" if note else told
    return msgspec.structs.replace(
        blank,
        temperature=found.get("temperature"),
        pressure=pressure,
        humidity=_humidity(parts),
        wind=wind,
        gust=gust,
        wind_from=parts.wind_from,
        note=note,
    )


def _humidity(parts: AirParts) -> float | None:
    """Return the relative humidity in %, as typed or from the dew point."""
    temperature, dew = parts.values.get("temperature"), parts.values.get("dew")
    if "humidity" in parts.values or dew is None:
        return parts.values.get("humidity")
    if temperature is None:
        raise UnknownInputError(
            "A dew point gives the humidity only together with the temperature.", ("temperature",)
        )
    return round(100 * relative_humidity(temperature + _KELVIN, dew + _KELVIN), 1)


_KELVIN = 273.15


def usual_pressure(elevation: float) -> float:
    """Return the pressure (hPa) that an elevation (m, -500 to 6,000) normally gives.

    Raises:
        OutOfRangeError: no such elevation.

    Source: ISO 2533:1975 standard atmosphere.

    >>> round(usual_pressure(400), 1)
    966.1
    """
    return standard_air(field_elevation(elevation)).pressure / 100


def station_pressure(reduced: float, elevation: float) -> float:
    """Return the pressure (hPa) at a place from one reduced to sea level (QNH, hPa).

    Args:
        reduced: hPa, as an airfield report gives it.
        elevation: m above sea level of the place itself.

    Raises:
        OutOfRangeError: not a believable pressure or elevation.

    Source: ISO 2533:1975, as in :func:`core.air.pressure_from_altimeter`.
    """
    return pressure_from_altimeter(reduced * 100, elevation) / 100


def pressure_question(pressure: float | None, elevation: float | None) -> Question | None:
    """Return the question whether a pressure was read at the place, when that is in doubt.

    Args:
        pressure: hPa as typed; None: none.
        elevation: m above sea level of the place; None: not known, and nothing can be asked.

    Returns:
        None when the pressure is within 1.5 % of what the elevation normally gives.
    """
    if pressure is None or elevation is None:
        return None
    usual = usual_pressure(elevation)
    share = pressure / usual - 1
    if abs(share) <= _PRESSURE_SLACK:
        return None
    side = "above" if share > 0 else "below"
    text = (
        f"{pressure:.4g} hPa is {abs(share) * 100:.1f} % {side} the {usual:.0f} hPa that"
        f" {elevation:.0f} m normally gives: read here, or reduced to sea level?"
    )
    here = Choice("h", f"read here, {pressure:.4g} hPa", pressure)
    again = Choice("t", "type it again", None)
    reduced = round(station_pressure(pressure, elevation), 1)
    if abs(reduced / usual - 1) > _PRESSURE_SLACK:
        return Question(text, (here, again))
    sea = Choice("s", f"reduced to sea level, so {reduced:.1f} hPa here", reduced)
    return Question(text, (sea, here, again))


def air_due(
    readings: Iterable[AirReading], now: datetime, limit: timedelta = AIR_GOOD_FOR
) -> AirDue:
    """Tell whether the air is known well enough for the next attempt.

    Args:
        readings: of the session.
        now: aware.
        limit: how long a reading is good for.

    Returns:
        ``missing`` without any reading, ``stale`` when the newest was observed longer ago than
        the limit, else ``fresh``. The time of observation counts, not that of typing.
    """
    newest = max((to_utc(r.observed) for r in readings), default=None)
    if newest is None:
        return AirDue("missing", None, "Air not read yet.")
    age = max(to_utc(now) - newest, timedelta(0))
    minutes = int(age.total_seconds() // 60)
    if age > limit:
        return AirDue("stale", age, f"Air was read {minutes} min ago: read it again.")
    return AirDue("fresh", age, f"Air was read {minutes} min ago.")


def wind_beyond(reading: AirReading) -> bool:
    """Tell whether the wind was too strong to compare: above 3 m/s mean, or 5 m/s in gusts."""
    return bool(wind_note((reading,)))


def wind_note(readings: Sequence[AirReading]) -> str:
    """Return what was too strong about the wind, as part of a sentence; empty: nothing.

    >>> from datetime import UTC
    >>> wind_note([AirReading(observed=datetime(2026, 4, 12, tzinfo=UTC), wind=2.0, gust=6.0)])
    'gusts of 6 m/s, above 5 m/s'
    """
    wind = max((r.wind for r in readings if r.wind is not None), default=0.0)
    gust = max((r.gust for r in readings if r.gust is not None), default=0.0)
    parts = []
    if wind > WIND_LIMIT:
        parts.append(f"mean wind of {wind:g} m/s, above {WIND_LIMIT:g} m/s")
    if gust > GUST_LIMIT:
        parts.append(f"gusts of {gust:g} m/s, above {GUST_LIMIT:g} m/s")
    return " and ".join(parts)
