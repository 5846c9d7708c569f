"""Engine, clutch and gearing as the force they put on the road at a speed."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

import msgspec

from core.errors import InputError, UnknownInputError
from core.guards import above_zero, not_negative

__all__ = ["Powertrain", "effective_mass", "road_force", "torque_at"]


class Powertrain(msgspec.Struct, frozen=True):
    """Torque curve, centrifugal clutch, ratio and turning masses.

    While the clutch slips the engine holds its engagement speed; from there on it is locked.

    Raises:
        InputError: the curve's columns differ in length, its speeds do not rise, or a value is
            refused.
    """

    curve_rpm: tuple[float, ...]  # 1/min, rising
    curve_torque: tuple[float, ...]  # N·m at full throttle, one for each speed
    ratio: float  # overall
    circumference: float  # rolling, m
    engagement_rpm: float  # 1/min at which the clutch holds the engine while it slips
    efficiency: float = 0.9  # of the drive, above 0 to 1
    wheel_inertia: float = 0.0  # all wheels together, kg·m²
    engine_inertia: float = 0.0  # crank and flywheel, kg·m²
    torque_scale: float = 1.0  # times the curve, such as for the air of the day

    def __post_init__(self) -> None:
        _check_curve(self.curve_rpm, self.curve_torque)
        above_zero("ratio", self.ratio)
        above_zero("rolling circumference", self.circumference, "m")
        above_zero("engagement speed", self.engagement_rpm, "rpm")
        not_negative("wheel inertia", self.wheel_inertia, "kg·m²")
        not_negative("engine inertia", self.engine_inertia, "kg·m²")
        above_zero("torque scale", self.torque_scale)
        if above_zero("drive efficiency", self.efficiency) > 1:
            raise InputError(f"Drive efficiency is {self.efficiency:g}: it cannot be above 1.")

    @property
    def radius(self) -> float:
        """Rolling radius, m."""
        return self.circumference / (2 * math.pi)

    @property
    def lock_speed(self) -> float:
        """Road speed at which the clutch locks, m/s: ``n_e C/(60 G)``."""
        return self.engagement_rpm * self.circumference / (60 * self.ratio)

    @property
    def last_speed(self) -> float:
        """Road speed at which the torque curve ends, m/s."""
        return self.curve_rpm[-1] * self.circumference / (60 * self.ratio)

    @property
    def knots(self) -> tuple[float, ...]:
        """Road speeds at which the force bends: locking, and each point of the curve, m/s."""
        per_rpm = self.circumference / (60 * self.ratio)
        points = {n * per_rpm for n in self.curve_rpm if n > self.engagement_rpm}
        return tuple(sorted(points | {self.lock_speed}))


def _check_curve(speeds: Sequence[float], torques: Sequence[float]) -> None:
    if len(speeds) != len(torques) or len(speeds) < 2:
        raise InputError(
            f"The torque curve has {len(speeds)} speeds and {len(torques)} torques:"
            " it needs as many of both, two or more."
        )
    for n, torque in zip(speeds, torques, strict=True):
        above_zero("engine speed of the torque curve", n, "rpm")
        not_negative("torque", torque, "N·m")
    for before, after in pairwise(speeds):
        if after <= before:
            raise InputError(f"{after:g} rpm follows {before:g}: the curve's speeds must rise.")


def torque_at(train: Powertrain, rpm: float) -> float:
    """Return the torque at an engine speed, by straight lines between the curve's points.

    Args:
        train: with its curve and scale.
        rpm: 1/min, within the curve.

    Returns:
        N·m.

    Raises:
        UnknownInputError: the curve does not reach that speed.

    Source: linear interpolation.
    """
    speeds, torques = train.curve_rpm, train.curve_torque
    slack = 1e-9 * speeds[-1]
    if not speeds[0] - slack <= rpm <= speeds[-1] + slack:
        raise UnknownInputError(
            f"Unknown: the torque curve runs from {speeds[0]:g} to {speeds[-1]:g} rpm,"
            f" not to {rpm:.0f}.",
            ("torque curve",),
        )
    i = min(max(bisect_right(speeds, rpm), 1), len(speeds) - 1)
    share = (rpm - speeds[i - 1]) / (speeds[i] - speeds[i - 1])
    return train.torque_scale * (torques[i - 1] + share * (torques[i] - torques[i - 1]))


def road_force(train: Powertrain, speed: float) -> float:
    """Return the force at the wheel at full throttle.

    Args:
        train: engine, clutch and gearing.
        speed: m/s, zero or more.

    Returns:
        N; ``T(n) G eta/R`` with n the engagement speed while the clutch slips.

    Raises:
        UnknownInputError: the torque curve does not reach the engine speed.
        InputError: the speed is below zero.

    Source: closed form.
    """
    locked = 60 * train.ratio * not_negative("speed", speed, "km/h") / train.circumference
    torque = torque_at(train, max(train.engagement_rpm, locked))
    return torque * train.ratio * train.efficiency / train.radius


def effective_mass(train: Powertrain, mass: float, locked: bool) -> float:
    """Return the mass that has to be sped up, turning parts counted in.

    Args:
        train: with its inertias.
        mass: kg, above zero.
        locked: whether the clutch is locked, so that the engine speeds up too.

    Returns:
        kg; ``m + Jw/R²``, locked ``+ Je (G/R)²``.

    Raises:
        InputError: the mass is not above zero.

    Source: kinetic energy of turning parts; closed form.
    """
    heavy = above_zero("mass", mass, "kg") + train.wheel_inertia / train.radius**2
    if locked:
        heavy += train.engine_inertia * (train.ratio / train.radius) ** 2
    return heavy
