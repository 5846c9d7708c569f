"""Units of speed, and which of them agrees with how the positions move."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from core.trace.positions import metres, speed_ratio

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["AGREE", "SPEED_UNITS", "ratio_of", "unit_by_ratio"]

SPEED_UNITS: Final[Mapping[str, float]] = MappingProxyType(
    {"km/h": 1 / 3.6, "mph": 0.44704, "m/s": 1.0, "kn": 1852 / 3600, "ft/s": 0.3048}
)
"""m/s in one of each unit a speed may stand in; exact."""

AGREE: Final = 0.10
"""Share by which positions and speeds may differ without a word; own rule."""

_IS_UNIT: Final = 0.06  # share within which another unit explains it


def ratio_of(t: Floats, speed: Floats, lat: Floats, lon: Floats) -> float | None:
    """Return how many times faster the positions move than the speeds say, or None.

    Args:
        t: s; only rows from the first to where the time stops increasing are looked at.
        speed: m/s as told.
        lat: degrees.
        lon: degrees.
    """
    import numpy as np  # lazy: 0.1 s

    good = ~(np.isnan(lat) | np.isnan(lon) | np.isnan(speed))
    t, speed, lat, lon = t[good], speed[good], lat[good], lon[good]
    if len(t) < 3:
        return None
    rising = np.concatenate(([True], np.diff(t) > 0))
    t, speed, lat, lon = t[rising], speed[rising], lat[rising], lon[rising]
    if (np.diff(t) <= 0).any():
        return None
    north, east = metres(lat, lon)
    return speed_ratio(t, speed, north, east)


def unit_by_ratio(unit: str, ratio: float) -> str:
    """Return the unit in which the speeds would agree with the positions; empty: none would.

    Args:
        unit: the one they were read in.
        ratio: of positions to speeds so read.

    >>> unit_by_ratio("mph", 0.62), unit_by_ratio("mph", 1.02), unit_by_ratio("mph", 3.0)
    ('km/h', 'mph', '')
    """
    if abs(ratio - 1) <= AGREE:
        return unit
    for other, factor in SPEED_UNITS.items():
        if abs(ratio / (factor / SPEED_UNITS[unit]) - 1) <= _IS_UNIT:
            return other
    return ""
