"""Coast-down: closed forms, what two directions leave, and the fit of the two coefficients."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import msgspec

from core.drive.roadload import GRAVITY
from core.errors import InputError
from core.guards import above_zero, finite, not_negative, shown

__all__ = [
    "CoastFit",
    "TwoWayCoast",
    "coast_distance",
    "coast_speed",
    "coast_time",
    "fit_coast",
    "two_way_coast",
]


class CoastFit(msgspec.Struct, frozen=True):
    """The two coefficients that fit a trace."""

    f0: float  # N: rolling and slope
    f2: float  # N s²/m²: air
    f0_sd: float  # N, standard error from the scatter of the trace
    f2_sd: float  # N s²/m², the same
    start_speed: float  # m/s at the first time
    residual: float  # m/s, scatter of the trace about the fit


class TwoWayCoast(msgspec.Struct, frozen=True):
    """The forces of two coast-downs in opposite directions, at one speed."""

    mean_force: float  # N
    bias: float  # N by which the mean lies above still air and level ground
    half_difference: float  # N


def _coefficients(mass: float, f0: float, f2: float) -> tuple[float, float]:
    above_zero("effective mass", mass, "kg")
    return above_zero("f0", f0, "N"), above_zero("f2", f2)


def coast_speed(mass: float, f0: float, f2: float, start: float, time: float) -> float:
    """Return the speed after coasting for a time.

    Args:
        mass: effective, turning parts counted in, kg, above zero.
        f0: constant force, N, above zero.
        f2: force over speed squared, N s²/m², above zero.
        start: m/s, zero or more.
        time: s, zero or more.

    Returns:
        m/s; ``sqrt(f0/f2) tan(atan(v0 sqrt(f2/f0)) - t sqrt(f0 f2)/m)``; 0 once at rest.

    Raises:
        InputError: an input is refused.

    Source: closed form; White and Korst, SAE 720099 (1972), SAE J1263 (from memory).

    >>> round(coast_speed(150, 35, 0.42, 15, 10), 3)
    8.825
    """
    f0, f2 = _coefficients(mass, f0, f2)
    v0 = not_negative("start speed", start, "km/h")
    angle = math.atan(v0 * math.sqrt(f2 / f0))
    angle -= not_negative("time", time, "s") * math.sqrt(f0 * f2) / mass
    return math.sqrt(f0 / f2) * math.tan(angle) if angle > 0 else 0.0


def _falling(start: float, end: float) -> None:
    if not_negative("end speed", end, "km/h") > not_negative("start speed", start, "km/h"):
        raise InputError(
            f"End speed {shown(end, 'km/h')} is above the start {shown(start, 'km/h')}:"
            " a machine that coasts slows down."
        )


def coast_time(mass: float, f0: float, f2: float, start: float, end: float = 0.0) -> float:
    """Return the time to coast from one speed to another.

    Args:
        mass: effective, kg, above zero.
        f0: N, above zero.
        f2: N s²/m², above zero.
        start: m/s.
        end: m/s, from zero to the start.

    Returns:
        s; ``m/sqrt(f0 f2) [atan(v0 s) - atan(v s)]``, ``s = sqrt(f2/f0)``.

    Raises:
        InputError: an input is refused.

    Source: closed form; as :func:`coast_speed`.

    >>> round(coast_time(150, 35, 0.42, 15, 5), 3)
    20.461
    """
    f0, f2 = _coefficients(mass, f0, f2)
    _falling(start, end)
    s = math.sqrt(f2 / f0)
    return mass / math.sqrt(f0 * f2) * (math.atan(start * s) - math.atan(end * s))


def coast_distance(mass: float, f0: float, f2: float, start: float, end: float = 0.0) -> float:
    """Return the way to coast from one speed to another.

    Args:
        mass: effective, kg, above zero.
        f0: N, above zero.
        f2: N s²/m², above zero.
        start: m/s.
        end: m/s, from zero to the start.

    Returns:
        m; ``m/(2 f2) ln[(f0 + f2 v0²)/(f0 + f2 v²)]``.

    Raises:
        InputError: an input is refused.

    Source: closed form; as :func:`coast_speed`.

    >>> round(coast_distance(150, 35, 0.42, 15), 2)
    233.63
    """
    f0, f2 = _coefficients(mass, f0, f2)
    _falling(start, end)
    return mass / (2 * f2) * math.log((f0 + f2 * start**2) / (f0 + f2 * end**2))


def two_way_coast(
    mass: float, f0: float, f2: float, speed: float, wind: float, grade: float
) -> TwoWayCoast:
    """Return what the mean of two directions leaves of wind and slope.

    Args:
        mass: kg, above zero.
        f0: N, above zero.
        f2: N s²/m², above zero.
        speed: m/s, above the wind.
        wind: along the strip, m/s.
        grade: rise over run, small.

    Returns:
        Mean ``f0 + f2 v² + f2 w²``, bias ``f2 w²`` (averaging does not remove it), half difference
        ``2 f2 v w + m g s``.

    Raises:
        InputError: an input is refused.

    Source: algebra.

    >>> round(two_way_coast(150, 35, 0.42, 12, 2, 0.004).bias, 2)
    1.68
    """
    f0, f2 = _coefficients(mass, f0, f2)
    w = finite("wind", wind)
    if above_zero("speed", speed, "km/h") <= abs(w):
        raise InputError("The wind is as fast as the machine: the two directions do not compare.")
    bias = f2 * w**2
    half = 2 * f2 * speed * w + mass * GRAVITY * finite("grade", grade)
    return TwoWayCoast(f0 + f2 * speed**2 + bias, bias, half)


def _check_trace(times: Sequence[float], speeds: Sequence[float]) -> None:
    if len(times) != len(speeds) or len(times) < 5:
        raise InputError(f"The trace has {len(times)} times and {len(speeds)} speeds: five or more")
    if any(after <= before for before, after in pairwise(times)):
        raise InputError("The times of the trace must increase.")
    if min(speeds) <= 0:
        raise InputError("A speed of the trace is not above zero: cut it before the machine rests.")
    if speeds[-1] >= speeds[0]:
        raise InputError("The speeds of the trace do not fall: this is no coast-down.")


def fit_coast(mass: float, times: Sequence[float], speeds: Sequence[float]) -> CoastFit:
    """Return f0 and f2 that fit a coast-down, start speed fitted too.

    Args:
        mass: effective, kg, above zero.
        times: s, increasing, five or more.
        speeds: m/s, above zero and falling on the whole.

    Returns:
        Least squares in speed on the closed form, with standard errors.

    Raises:
        InputError: the trace is refused, or no two coefficients above zero fit it.

    Source: nonlinear least squares, Levenberg-Marquardt as in SciPy; closed form of
    :func:`coast_speed`.
    """
    import numpy as np  # lazy: 0.1 s
    from scipy.optimize import least_squares  # lazy: 0.3 s

    above_zero("effective mass", mass, "kg")
    _check_trace(times, speeds)
    t = np.asarray(times, float) - times[0]
    v = np.asarray(speeds, float)
    rough = mass * (v[0] - v[-1]) / t[-1]
    guess = [math.log(rough / 2), math.log(rough / 2 / float(np.mean(v**2))), float(v[0])]

    def misfit(p: Any) -> Any:
        f0, f2 = math.exp(p[0]), math.exp(p[1])
        angle = np.arctan(p[2] * math.sqrt(f2 / f0)) - t * math.sqrt(f0 * f2) / mass
        return math.sqrt(f0 / f2) * np.tan(np.maximum(angle, 0)) - v

    found = least_squares(misfit, guess, method="trf", x_scale=[1.0, 1.0, float(v[0])])
    slopes = np.asarray(found.jac, float)
    if not found.success or np.linalg.cond(slopes) > 1e8:
        raise InputError("No two coefficients above zero fit this trace.")
    f0, f2 = math.exp(found.x[0]), math.exp(found.x[1])
    scatter = math.sqrt(2 * found.cost / max(1, len(t) - 3))
    sd = scatter * np.sqrt(np.diag(np.linalg.inv(slopes.T @ slopes)))
    return CoastFit(f0, f2, f0 * float(sd[0]), f2 * float(sd[1]), float(found.x[2]), scatter)
