"""Runs against the clock by the road-load model: standing start, rolling from-to, top speed."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import msgspec

from core.drive.powertrain import Powertrain, effective_mass, road_force
from core.drive.roadload import Road, road_load
from core.errors import InputError, UnknownInputError
from core.guards import above_zero, not_negative, shown

__all__ = ["Run", "accelerate", "full_speed", "over_distance"]

# abscissae and weights of the 8-point Gauss-Legendre rule on -1 to 1
_GAUSS = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)
_DEEPEST = 40  # halvings of a piece near the top speed


class Run(msgspec.Struct, frozen=True):
    """A run by the model; without a time when the target is not reached."""

    reached: bool
    time: float | None  # s; None when not reached
    distance: float | None  # m; None when not reached
    end_speed: float  # m/s; the target, or the speed at which force and load meet below it
    lock_speed: float  # m/s at which the clutch locks

    def text(self) -> str:
        """Return it as it is read out."""
        if self.time is None:
            return f"not reached: it stays at {shown(round(self.end_speed, 2), 'km/h')}"
        return f"{self.time:.2f} s"


def _surplus(train: Powertrain, road: Road, speed: float) -> float:
    return road_force(train, speed) - road_load(road, speed)


def _rule(f: Callable[[float], float], low: float, high: float) -> float:
    middle, half = (low + high) / 2, (high - low) / 2
    return half * sum(w * (f(middle - half * x) + f(middle + half * x)) for x, w in _GAUSS)


def _integral(f: Callable[[float], float], low: float, high: float, depth: int = 0) -> float:
    middle = (low + high) / 2
    whole, halves = _rule(f, low, high), _rule(f, low, middle) + _rule(f, middle, high)
    if depth >= _DEEPEST or abs(whole - halves) <= 1e-10 * abs(halves):
        return halves
    return _integral(f, low, middle, depth + 1) + _integral(f, middle, high, depth + 1)


def _pieces(train: Powertrain, start: float, end: float) -> list[tuple[float, float]]:
    inner = [v for v in train.knots if start < v < end]
    return list(pairwise([start, *inner, end]))


def _stall(train: Powertrain, road: Road, low: float, high: float) -> float | None:
    """Return the first speed from low to high at which nothing is left to speed up with."""
    if _surplus(train, road, low) <= 0:
        return low
    for a, b in _pieces(train, low, high):
        edge = [a + (b - a) * i / 8 for i in range(9)]
        for left, right in pairwise(edge):
            if _surplus(train, road, right) > 0:
                continue
            for _ in range(60):
                middle = (left + right) / 2
                if _surplus(train, road, middle) > 0:
                    left = middle
                else:
                    right = middle
            return right
    return None


def _time_and_way(
    train: Powertrain, road: Road, pieces: list[tuple[float, float]]
) -> tuple[float, float]:
    time = way = 0.0
    for low, high in pieces:
        mass = effective_mass(train, road.mass, low >= train.lock_speed * (1 - 1e-12))

        def slowness(v: float, mass: float = mass) -> float:
            return mass / _surplus(train, road, v)

        time += _integral(slowness, low, high)
        way += _integral(lambda v, f=slowness: v * f(v), low, high)  # type: ignore[misc]
    return time, way


def accelerate(train: Powertrain, road: Road, target: float, start: float = 0.0) -> Run:
    """Return the run from one speed to another at full throttle.

    Args:
        train: engine, clutch and gearing.
        road: machine, air and strip.
        target: m/s, above the start.
        start: m/s, zero or more; zero is a standing start.

    Returns:
        Time ``t = int m_eff dv/(F - F_res)`` and way, in pieces between the bends of the force; or
        'not reached' when nothing is left to speed up with before the target.

    Raises:
        InputError: the target is not above the start.
        UnknownInputError: the torque curve ends before the target, with force to spare.

    Source: Newton's law, integrated by Gauss-Legendre; closed form where the force is constant.
    """
    above_zero("target speed", target, "km/h")
    if not_negative("start speed", start, "km/h") >= target:
        raise InputError(
            f"Start speed {shown(start, 'km/h')} is not below the target {shown(target, 'km/h')}."
        )
    reach = min(target, max(train.last_speed, train.lock_speed))
    if start < reach:
        stall = _stall(train, road, start, reach)
        if stall is not None:
            return Run(False, None, None, stall, train.lock_speed)
    if reach < target:
        raise UnknownInputError(
            f"Unknown: the torque curve ends at {shown(train.last_speed, 'km/h')},"
            f" before {shown(target, 'km/h')}.",
            ("torque curve",),
        )
    time, way = _time_and_way(train, road, _pieces(train, start, target))
    return Run(True, time, way, target, train.lock_speed)


def full_speed(train: Powertrain, road: Road) -> float:
    """Return the top speed at full throttle.

    Args:
        train: engine, clutch and gearing.
        road: machine, air and strip.

    Returns:
        m/s; where force and road load meet for the first time; 0 when it does not move off.

    Raises:
        UnknownInputError: the torque curve ends with force to spare.

    Source: root found by bisection.
    """
    end = max(train.last_speed, train.lock_speed)
    stall = _stall(train, road, 0.0, end)
    if stall is None:
        raise UnknownInputError(
            f"Unknown: the torque curve ends at {shown(end, 'km/h')} with force to spare.",
            ("torque curve",),
        )
    return stall


def over_distance(train: Powertrain, road: Road, distance: float, start: float = 0.0) -> Run:
    """Return the run over a distance at full throttle.

    Args:
        train: engine, clutch and gearing.
        road: machine, air and strip.
        distance: m, above zero.
        start: speed at its beginning, m/s, zero or more.

    Returns:
        Time, distance, and the speed at its end; 'not reached' when the machine does not move off.

    Raises:
        InputError: the distance is not above zero, or the start is above the top speed.
        UnknownInputError: the torque curve ends with force to spare.

    Source: as :func:`accelerate`; the last piece is halved until the way fits. From 0.99999 of the
    top speed on the speed is taken as steady.
    """
    above_zero("distance", distance, "m")
    top = full_speed(train, road)
    if top == 0.0:
        return Run(False, None, None, 0.0, train.lock_speed)
    if not_negative("start speed", start, "km/h") >= top:
        raise InputError(f"Start speed is not below the top speed, {shown(top, 'km/h')}.")
    near_top = max(start, 0.99999 * top)
    time = way = 0.0
    for low, high in _pieces(train, start, near_top):
        more_time, more_way = _time_and_way(train, road, [(low, high)])
        if way + more_way >= distance:
            return _within(train, road, (low, high), (time, way, distance))
        time, way = time + more_time, way + more_way
    return Run(True, time + (distance - way) / top, distance, top, train.lock_speed)


def _within(
    train: Powertrain, road: Road, piece: tuple[float, float], so_far: tuple[float, float, float]
) -> Run:
    (start, high), (time, way, distance) = piece, so_far
    low = start
    for _ in range(40):
        middle = (low + high) / 2
        if way + _time_and_way(train, road, [(start, middle)])[1] < distance:
            low = middle
        else:
            high = middle
    more = _time_and_way(train, road, [(start, high)])[0]
    return Run(True, time + more, distance, high, train.lock_speed)
