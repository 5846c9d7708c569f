"""What coast-downs measured, as the road-load fit takes it."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, log
from typing import Final

from core.ranged import Ranged
from core.session import Book
from core.session.dragging import drag_of_machine

__all__ = ["Measured", "coasted"]

_RANGE = 2.0 * 1.96  # standard deviations from end to end of a 95 % range
_OTHER_DAYS: Final = {"rolling": 0.10, "drag_area": 0.05}
"""How far it is another on another day (tyres, seat, clothes); common practice, no source."""


@dataclass(frozen=True)
class Measured:
    """One number of the road-load model that was measured by itself."""

    name: str  # a row of ``priors.PRIORS``
    value: float  # in the unit of that row
    share: float  # standard deviation of its logarithm


def coasted(book: Book, machine: str) -> tuple[Measured, ...]:
    """Return rolling and drag area as the newest coast-downs of a machine gave them.

    Args:
        book: the open log.
        machine: id; nothing is found for one without coast-downs kept.
    """
    drag = drag_of_machine(book, machine)
    if drag is None:
        return ()
    told: dict[str, Ranged | None] = {"rolling": drag.rolling, "drag_area": drag.drag_area}
    return tuple(
        Measured(name, found.value, hypot(_share(found), _OTHER_DAYS[name]))
        for name, found in told.items()
        if found is not None and found.low > 0.0
    )


def _share(found: Ranged) -> float:
    return log(found.high / found.low) / _RANGE
