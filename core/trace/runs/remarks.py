"""What is told beside a run, whatever its shape, and the making of its record."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

from core.trace.runs.motion import Part
from core.trace.wanted import FoundRun, Wanted

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["made", "remarks"]

_BLURRED: Final = 0.25  # m/s of noise from which lines through differences of places bend by it
_AT_MOST: Final = 2.0  # times the error of a line; measured on recordings whose truth is known
_DIP: Final = 3 / 3.6  # m/s by which a speed may go back on the way without a word


def rows_between(part: Part, start: float, end: float) -> tuple[int, int]:
    """Return the last row at or before a time and the first at or after another."""
    import numpy as np  # lazy: 0.1 s

    first = int(np.searchsorted(part.rows.t, start, side="right")) - 1
    last = int(np.searchsorted(part.rows.t, end))
    return max(0, first), min(len(part) - 1, last)


def remarks(part: Part, start: float, end: float, *, falls: bool = False) -> list[str]:
    """Return what is odd between two times: rows missing, a speed that went the other way.

    Args:
        part: rows without a break.
        start: s.
        end: s.
        falls: the speed is meant to fall.
    """
    first, last = rows_between(part, start, end)
    found = []
    gap = part.longest_gap(first, last)
    if gap:
        found.append(f"Rows are missing for {gap:.2g} s within it.")
    dip = part.dip(first, last, falls=falls)
    if dip > max(_DIP, 4 * part.rows.noise):
        way = "rose" if falls else "fell back"
        found.append(f"The speed {way} by {dip * 3.6:.1f} km/h on the way.")
    return found


def made(
    part: Part, wanted: Wanted, times: tuple[float, float], value: float, sd: float, **more: Any
) -> FoundRun:
    """Return the record of a run.

    Args:
        part: where it was found.
        wanted: what was looked for.
        times: s, start and end.
        value: in the unit of the shape.
        sd: of the value, by its lines; made wider where speeds are differences of noisy places.
        more: other fields of `FoundRun`.
    """
    first, last = rows_between(part, *times)
    if part.rows.shared:
        sd *= min(_AT_MOST, math.hypot(1.0, part.rows.noise / _BLURRED))
    return FoundRun(
        test=wanted.test,
        start=times[0],
        end=times[1],
        value=value,
        unit="km/h" if wanted.shape == "top" else "s",
        sd=sd,
        from_index=part.offset + first,
        to_index=part.offset + last,
        **more,
    )
