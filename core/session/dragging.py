"""Drag from the coast-downs of a session: mass and air of the day, kept for the road load."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import msgspec

from core.air import density
from core.clock import to_utc
from core.drive import Road
from core.errors import BackToBackError, UnknownInputError
from core.ranged import Ranged
from core.session.book import Book
from core.session.documents import Session
from core.setup import Sheet, derived_value
from core.trace import FoundRun, KeptDrag, TraceDocument
from core.trace.drag import CoastDrag, coast_drag
from core.trace.traces import Trace

__all__ = [
    "density_of",
    "drag_inputs",
    "drag_of_machine",
    "drag_of_runs",
    "kept_drag",
    "mass_of",
    "road_of",
    "with_drag",
]

_KELVIN = 273.15


def mass_of(sheet: Sheet) -> float | None:
    """Return machine, rider and ballast in kg as a sheet tells them; None: it does not."""
    return derived_value(sheet, "total_mass").value


def density_of(session: Session, when: datetime | None = None) -> float | None:
    """Return the density of the air of a session, kg/m³; None: the air was not read.

    Args:
        session: with its air readings.
        when: the reading nearest to this time is taken; None: the last one.

    Source: CIPM-2007 (`core.air.density`).
    """
    read = [r for r in session.air if r.temperature is not None and r.pressure is not None]
    if not read:
        return None
    moment = to_utc(when or read[-1].observed)
    nearest = min(read, key=lambda r: abs(to_utc(r.observed) - moment))
    assert nearest.temperature is not None  # noqa: S101  asked before
    assert nearest.pressure is not None  # noqa: S101
    humidity = 0.5 if nearest.humidity is None else nearest.humidity / 100
    try:
        return density(nearest.temperature + _KELVIN, nearest.pressure * 100, humidity)
    except BackToBackError:
        return None


def drag_of_runs(
    trace: Trace,
    runs: Sequence[FoundRun],
    mass: float,
    now: datetime,
    air_density: float | None = None,
) -> KeptDrag:
    """Return rolling and air drag of coast-downs, as it is kept; may be called in a thread.

    Args:
        trace: the recording.
        runs: coast-downs found in it.
        mass: of machine and rider, kg, above zero.
        now: the time now.
        air_density: kg/m³; None: not known, no drag area is given.

    Raises:
        InputError: as `core.trace.drag.coast_drag`.
    """
    found = coast_drag(trace, runs, mass, air_density=air_density)
    return kept_drag(found, mass, now, runs[0].test, air_density)


def kept_drag(
    drag: CoastDrag, mass: float, now: datetime, test: str, air_density: float | None
) -> KeptDrag:
    """Return drag as it is kept; arguments as for `drag_of_runs`, with the coast-down's name."""
    return KeptDrag(
        at=now,
        test=test,
        mass=mass,
        f0=drag.f0,
        f2=drag.f2,
        rolling=drag.rolling,
        drag_area=drag.drag_area,
        air_density=air_density,
        each_way=dict(drag.each_way),
        notes=drag.notes,
    )


def with_drag(document: TraceDocument, drag: KeptDrag) -> TraceDocument:
    """Return the document of a recording with the drag of its coast-downs."""
    return msgspec.structs.replace(document, drag=drag)


def drag_of_machine(book: Book, machine: str) -> KeptDrag | None:
    """Return what the newest coast-downs of a machine came to; None: none are kept.

    Args:
        book: an open log.
        machine: id.
    """
    mine = {head.id for head in book.sessions() if head.machine == machine}
    kept = [h.drag for h in book.traces() if h.drag is not None and h.session in mine]
    return max(kept, key=lambda drag: to_utc(drag.at), default=None)


def road_of(
    drag: KeptDrag, *, air_density: float | None = None, headwind: float = 0.0, grade: float = 0.0
) -> Road:
    """Return machine and air for the road-load model, by what its coast-downs came to.

    Args:
        drag: as kept.
        air_density: kg/m³ on the day that is asked about; None: that of the coast-downs.
        headwind: m/s along the strip.
        grade: rise over run.

    Raises:
        UnknownInputError: no air density is known.
    """
    density_then = drag.air_density
    if density_then is None or drag.drag_area is None:
        raise UnknownInputError(
            "Unknown: the air of the coast-downs was not read.", ("air density",)
        )
    return Road(
        mass=drag.mass,
        rolling=drag.rolling.value,
        drag_area=drag.drag_area.value,
        air_density=density_then if air_density is None else air_density,
        headwind=headwind,
        grade=grade,
    )


def drag_inputs(drag: KeptDrag) -> dict[str, str]:
    """Return the inputs of road-load formulas that coast-downs tell, as they would be typed."""
    found = {"rolling": _typed(drag.rolling, 4), "f0": _typed(drag.f0, 1)}
    found["f2"] = _typed(drag.f2, 3)
    if drag.drag_area is not None:
        found["drag-area"] = _typed(drag.drag_area, 3)
    return found


def _typed(given: Ranged, decimals: int) -> str:
    half = max(given.high - given.value, given.value - given.low)
    return f"{given.value:.{decimals}f}+-{half:.{decimals}f}"
