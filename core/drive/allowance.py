"""What air, wind, grade and mass do to a time, and times brought to other conditions.

A time or speed is never multiplied by a power factor or a density ratio: it is corrected by the
ratio of two model times.
"""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from core.drive.launch import accelerate, full_speed
from core.drive.powertrain import Powertrain
from core.drive.roadload import Road, air_factor, rolling_force, top_speed
from core.errors import UnknownInputError
from core.guards import above_zero, finite

__all__ = [
    "AllowedTime",
    "Elasticity",
    "Sensitivities",
    "allowed_time",
    "model_time",
    "sensitivities",
    "top_speed_elasticity",
]

_STEP = 0.01  # relative step of the central differences
_WIND_STEP = 0.1  # m/s
_GRADE_STEP = 0.0005


class AllowedTime(msgspec.Struct, frozen=True):
    """A time brought to reference conditions; the raw one is always shown first."""

    observed: float  # s
    corrected: float  # s
    model_test: float  # s, the model in the conditions of the test
    model_reference: float  # s, the model in the reference conditions

    @property
    def share(self) -> float:
        """``model_reference / model_test``: what the observed time was multiplied by."""
        return self.model_reference / self.model_test


class Sensitivities(msgspec.Struct, frozen=True):
    """Relative change of a result for a relative change of a cause, and plain change for two."""

    torque: float  # d ln y / d ln torque
    density_fixed_torque: float  # d ln y / d ln density, torque unchanged
    density_with_torque: float  # d ln y / d ln density, torque in step with it
    mass: float  # d ln y / d ln mass
    headwind: float  # unit of y per m/s
    grade: float  # unit of y per 0.001 of grade


class Elasticity(msgspec.Struct, frozen=True):
    """How top speed follows air density on a flat power curve."""

    density: float  # d ln v / d ln density
    wind: float  # d v / d headwind
    power: float  # d ln v / d ln power
    rolling_share: float  # share of the power that rolling and slope take


def model_time(train: Powertrain, road: Road, target: float, start: float = 0.0) -> float:
    """Return the model's time from one speed to another, s.

    Raises:
        UnknownInputError: the target is not reached.
        InputError: as :func:`~core.drive.launch.accelerate`.

    Source: :func:`~core.drive.launch.accelerate`.
    """
    run = accelerate(train, road, target, start)
    if run.time is None:
        raise UnknownInputError(f"Unknown: {run.text()}.", ("time",))
    return run.time


def allowed_time(
    observed: float,
    test: tuple[Powertrain, Road],
    reference: tuple[Powertrain, Road],
    target: float,
    start: float = 0.0,
) -> AllowedTime:
    """Return an observed time brought to reference conditions.

    Args:
        observed: s, above zero.
        test: powertrain and road as on the day; torque scaled for its air.
        reference: the same in the reference conditions.
        target: m/s.
        start: m/s.

    Returns:
        ``t_obs t_model(reference)/t_model(test)`` with the two model times.

    Raises:
        UnknownInputError: the target is not reached in one of them.
        InputError: an input is refused.

    Source: ratio method; closed form.
    """
    above_zero("observed time", observed, "s")
    before = model_time(*test, target, start)
    after = model_time(*reference, target, start)
    return AllowedTime(observed, observed * after / before, before, after)


def _outcomes(train: Powertrain, road: Road, target: float) -> tuple[float, float]:
    return model_time(train, road, target), full_speed(train, road)


def sensitivities(
    train: Powertrain, road: Road, target: float
) -> tuple[Sensitivities, Sensitivities]:
    """Return the sensitivities of the time to a speed, and of the top speed.

    Args:
        train: engine, clutch and gearing.
        road: machine, air and strip.
        target: m/s.

    Returns:
        Those of the time (s), then those of the top speed (m/s), by central differences.

    Raises:
        UnknownInputError: target or top speed are not reached within the torque curve.

    Source: central differences of the model; the time's also as integrals, closed form.
    """

    def scaled(torque: float, density: float, mass: float) -> tuple[Powertrain, Road]:
        return (
            replace(train, torque_scale=train.torque_scale * torque),
            replace(road, air_density=road.air_density * density, mass=road.mass * mass),
        )

    up, down = 1 + _STEP, 1 / (1 + _STEP)
    pairs = [
        (scaled(up, 1, 1), scaled(down, 1, 1)),
        (scaled(1, up, 1), scaled(1, down, 1)),
        (scaled(up, up, 1), scaled(down, down, 1)),
        (scaled(1, 1, up), scaled(1, 1, down)),
        tuple((train, replace(road, headwind=road.headwind + s * _WIND_STEP)) for s in (1, -1)),
        tuple((train, replace(road, grade=road.grade + s * _GRADE_STEP)) for s in (1, -1)),
    ]
    ends = [tuple(_outcomes(*state, target) for state in pair) for pair in pairs]
    widths = [_relative_width()] * 4 + [2 * _WIND_STEP, 2 * _GRADE_STEP / 0.001]
    best = _outcomes(train, road, target)
    results = []
    for which in (0, 1):
        slopes = [(a[which] - b[which]) / w for (a, b), w in zip(ends, widths, strict=True)]
        relative = [slope / best[which] for slope in slopes[:4]]
        results.append(Sensitivities(*relative, *slopes[4:]))
    return results[0], results[1]


def _relative_width() -> float:
    return (1 + _STEP) - 1 / (1 + _STEP)


def top_speed_elasticity(road: Road, power: float, alpha: float = 1.0) -> Elasticity:
    """Return how the top speed follows density, wind and power on a flat power curve.

    Args:
        road: machine, air and strip; still air.
        power: at the wheel, W, above zero.
        alpha: power goes with density to this exponent; 1 when torque is in step with it.

    Returns:
        ``(alpha P - A)/(R + 3A)``, ``-2A/(R + 3A)`` and ``P/(R + 3A)`` with R the power of rolling
        and slope and A that of air. With alpha 1 only R is left: drag and power fall together.

    Raises:
        InputError: an input is refused.

    Source: implicit derivative of ``R + A = P``; closed form.

    >>> round(top_speed_elasticity(Road(150, 0.025, 0.7, 1.2), 4000.0).density, 3)
    0.069
    """
    v = top_speed(replace(road, headwind=0.0), power)
    rolling, air = rolling_force(road) * v, air_factor(road) * v**3
    below = rolling + 3 * air
    return Elasticity(
        density=(finite("alpha", alpha) * power - air) / below,
        wind=-2 * air / below,
        power=power / below,
        rolling_share=rolling / power,
    )
