"""Distances between positions on the WGS84 ellipsoid, at the length of a strip."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from core.guards import between

__all__ = ["Position", "distance", "path_length", "sphere_distance"]

Position = tuple[float, float]
"""Latitude and longitude, degrees, north and east above zero."""

_A = 6_378_137.0  # m, WGS84 equator
_E2 = (2 - 1 / 298.257223563) / 298.257223563  # first eccentricity squared
_MEAN = 6_371_008.8  # m, mean radius


def _checked(position: Position) -> Position:
    latitude = between("latitude", position[0], -90, 90, "°")
    return latitude, between("longitude", position[1], -180, 180, "°")


def _in_space(position: Position) -> tuple[float, float, float]:
    latitude, longitude = (math.radians(angle) for angle in _checked(position))
    across = _A / math.sqrt(1 - _E2 * math.sin(latitude) ** 2)
    return (
        across * math.cos(latitude) * math.cos(longitude),
        across * math.cos(latitude) * math.sin(longitude),
        across * (1 - _E2) * math.sin(latitude),
    )


def distance(a: Position, b: Position) -> float:
    """Return the distance along the ellipsoid between two positions near each other.

    Args:
        a: degrees.
        b: degrees, at most some 100 km away.

    Returns:
        m; straight line through the ellipsoid, bent to its arc: within 1e-8 of the geodesic on a
        strip and 1e-6 at 100 km.

    Raises:
        OutOfRangeError: a latitude or longitude is outside its range.

    Source: WGS84 (a 6 378 137 m, 1/f 298.257223563), closed form; arc ``2 R asin(c/2R)``.

    >>> round(distance((51.5, -0.1), (51.5018, -0.1)), 2)
    200.26
    """
    chord = math.dist(_in_space(a), _in_space(b))
    return 2 * _MEAN * math.asin(min(1.0, chord / (2 * _MEAN)))


def sphere_distance(a: Position, b: Position) -> float:
    """Return the distance on a sphere, for comparison: up to 0.5 % off.

    Args:
        a: degrees.
        b: degrees.

    Returns:
        m; haversine with the mean radius 6 371 008.8 m.

    Raises:
        OutOfRangeError: a latitude or longitude is outside its range.

    Source: haversine; closed form.

    >>> round(sphere_distance((51.5, -0.1), (51.5018, -0.1)), 2)
    200.15
    """
    (lat1, lon1), (lat2, lon2) = (tuple(map(math.radians, _checked(p))) for p in (a, b))
    h = (
        math.sin((lat2 - lat1) / 2) ** 2
        + math.cos(lat1) * math.cos(lat2) * math.sin((lon2 - lon1) / 2) ** 2
    )
    return 2 * _MEAN * math.asin(math.sqrt(min(1.0, h)))


def path_length(positions: Sequence[Position]) -> float:
    """Return the length of a path from position to position, m; 0 for one position or none.

    Noise of the positions makes it longer, the more so the denser they are.

    Source: sum of :func:`distance`.
    """
    return math.fsum(distance(a, b) for a, b in pairwise(positions))
