"""Instruments with the user's own figures, and how far out a reading of each slot may be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from types import MappingProxyType

import msgspec

from core.bench.documents import BenchReading, Gauge, GaugeHead
from core.engine import INSTRUMENTS, Instrument, reading_range
from core.errors import InputError
from core.setup import Reading, Sheet, slot_of
from core.setup.derived import ESTIMATE_TIMES
from core.setup.sums import si_scale
from core.units import read_quantity

__all__ = [
    "GAUGE_UNITS",
    "USUAL_GAUGES",
    "gauge_figures",
    "gauges_from",
    "half_of",
    "halves_on",
    "put_right",
    "taken_for",
]

USUAL_GAUGES: Mapping[str, Instrument] = MappingProxyType({one.key: one for one in INSTRUMENTS})
"""Every instrument with its usual figures, by key."""

GAUGE_UNITS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        # key: (unit its figures are kept and shown in, SI units in one of it)
        "burette": ("cm³", 1e-6),
        "degree_wheel": ("deg", 1.0),
        "tachometer": ("rpm", 1.0),
        "scales": ("kg", 1.0),
        "pressure_gauge": ("kPa", 1e3),
        "thermometer": ("°C", 1.0),
        "barometer": ("hPa", 100.0),
        "hygrometer": ("%", 0.01),
    }
)
"""Units of the instruments that do not read a length; those that do are kept in mm."""

_MM = ("mm", 1e-3)
_MOST_TIMES = 1000  # readings averaged
_ENTERED_WITHIN = timedelta(days=1)  # from the reading to its entry on the sheet


def gauge_figures(gauge: Instrument) -> tuple[float, float, str]:
    """Return resolution and repeatability of an instrument in the unit they are shown in.

    >>> gauge_figures(USUAL_GAUGES["burette"])
    (0.1, 0.2, 'cm³')
    """
    unit, scale = GAUGE_UNITS.get(gauge.key, _MM)
    figures = (float(f"{x / scale:.10g}") for x in (gauge.resolution, gauge.repeatability))
    return (*figures, unit)  # type: ignore[return-value]  # two numbers and a unit


def gauges_from(own: Iterable[Gauge | GaugeHead]) -> Mapping[str, Instrument]:
    """Return all instruments by key, those the user put right with the user's figures."""
    gauges = dict(USUAL_GAUGES)
    for one in own:
        scale = GAUGE_UNITS.get(one.id, _MM)[1]
        gauges[one.id] = Instrument(
            one.id, one.words, one.resolution * scale, one.repeatability * scale
        )
    return MappingProxyType(gauges)


def put_right(
    gauge: Instrument,
    at: datetime,
    *,
    resolution: str = "",
    repeatability: str = "",
    note: str = "",
) -> Gauge:
    """Return the document that keeps an instrument with other figures.

    Args:
        gauge: as it is counted now.
        at: when it is put right.
        resolution: as typed, with or without unit; empty: as it is.
        repeatability: the same.
        note: why, such as a series of ten pours.

    Raises:
        InputError: not a number, or below zero; or both are zero.
    """
    step, spread, unit = gauge_figures(gauge)
    step = _figure("resolution", resolution, unit, step)
    spread = _figure("repeatability", repeatability, unit, spread)
    if step == 0 and spread == 0:
        raise InputError("No instrument is without any doubt: one figure must be above zero.")
    return Gauge(
        id=gauge.key, words=gauge.words, resolution=step, repeatability=spread, at=at, note=note
    )


def _figure(name: str, text: str, unit: str, now: float) -> float:
    if not text.strip():
        return now
    typed = read_quantity(text, unit)
    value = typed.value - read_quantity(f"0 {typed.unit}".strip(), unit).value
    if not 0 <= value < math.inf:
        raise InputError(f"The {name} is below zero: it cannot be.")
    return value


def half_of(
    slot: str,
    gauges: Mapping[str, Instrument] = USUAL_GAUGES,
    taken: BenchReading | None = None,
) -> float:
    """Return how far a reading of a slot may be out either way, in the slot's unit.

    Args:
        slot: id.
        gauges: instruments by key.
        taken: the bench reading it comes from; None: taken with the usual instrument.

    Returns:
        One standard deviation, 0 for what has no instrument.
    """
    row = slot_of(slot)
    key = (taken.instrument if taken else "") or row.instrument
    gauge = gauges.get(key)
    if gauge is None:
        return (taken.repeatability or 0.0) if taken else 0.0
    scale = si_scale(row.unit)
    if taken is not None and taken.repeatability is not None:
        gauge = msgspec.structs.replace(gauge, repeatability=taken.repeatability * scale)
    times = min(max(1, taken.times), _MOST_TIMES) if taken else 1
    return reading_range(0.0, gauge, times).high / scale


def taken_for(sheet: Sheet, taken: Iterable[BenchReading]) -> dict[str, BenchReading]:
    """Return, by slot, the bench reading that the value on a sheet is from.

    Args:
        sheet: any.
        taken: bench readings of the machine; the newest of the same value counts, if it went onto
            the sheet within a day.
    """
    found: dict[str, BenchReading] = {}
    for one in sorted(taken, key=lambda reading: (reading.at, reading.id)):
        for slot, reading in one.readings.items():
            now = sheet.readings.get(slot)
            if now is not None and _is_from(now, reading):
                found[slot] = one
    return found


def _is_from(now: Reading, reading: Reading) -> bool:
    if now.value is None or now.value != reading.value or now.at is None or reading.at is None:
        return False
    return timedelta(0) <= now.at - reading.at < _ENTERED_WITHIN


def halves_on(
    sheet: Sheet,
    taken: Iterable[BenchReading] = (),
    gauges: Mapping[str, Instrument] = USUAL_GAUGES,
) -> dict[str, float]:
    """Return how far out each value of a sheet may be, by slot, in the slot's unit.

    Args:
        sheet: any.
        taken: bench readings of the machine.
        gauges: instruments by key.
    """
    from_bench = taken_for(sheet, taken)
    return {
        slot: half_of(slot, gauges, from_bench.get(slot)) * _times_out(reading)
        for slot, reading in sheet.readings.items()
        if reading.value is not None and (slot_of(slot).instrument or slot in from_bench)
    }


def _times_out(reading: Reading) -> float:
    return ESTIMATE_TIMES if reading.state == "estimated" or reading.copied else 1.0
