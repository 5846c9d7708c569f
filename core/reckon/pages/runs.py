"""Runs by the road-load model: force at the wheel, starts, rolling from-to, times allowed for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from core.drive import (
    Powertrain,
    Road,
    Run,
    accelerate,
    allowed_time,
    effective_mass,
    full_speed,
    over_distance,
    road_force,
    sensitivities,
    torque_at,
)
from core.reckon.cautions import STEP
from core.reckon.formula import Formula, Input, Outcome, Output
from core.reckon.inputs import (
    AIR_DENSITY,
    CIRCUMFERENCE,
    CURVE,
    DISTANCE,
    DRAG_AREA,
    EFFICIENCY,
    ENGAGEMENT,
    ENGINE_INERTIA,
    GRADE,
    HEADWIND,
    MASS,
    RATIO,
    ROLLING,
    SPEED,
    TORQUE_SCALE,
    WHEEL_INERTIA,
)

__all__ = ["RUNS"]

_TRAIN = (
    CURVE, RATIO, CIRCUMFERENCE, ENGAGEMENT, EFFICIENCY, WHEEL_INERTIA, ENGINE_INERTIA,
    TORQUE_SCALE,
)  # fmt: skip
_DAY = (AIR_DENSITY, HEADWIND, GRADE, TORQUE_SCALE)
_ROAD = (MASS, ROLLING, DRAG_AREA, AIR_DENSITY, HEADWIND, GRADE)
_REFERENCE = tuple(
    replace(one, name=f"reference-{one.name}", label=f"{one.label}, to bring it to") for one in _DAY
)
_TARGET = Input("target", "speed to reach", "km/h")
_START = Input("start", "speed at the beginning", "km/h", required=False, default="0")
_RUN_OUT = (
    Output("time", "time", "s", 2),
    Output("distance", "way", "m", 1),
    Output("end-speed", "speed at the end", "km/h", 1),
    Output("lock-speed", "clutch locks at", "km/h", 1),
)
_MODEL = "Newton's law, integrated by Gauss-Legendre; 'not reached' when no force is left"
_CORRECT = "A time is corrected by the ratio of two model times, never by a power factor."


def _train(given: Mapping[str, Any]) -> Powertrain:
    speeds, torques = given["curve"]
    return Powertrain(
        curve_rpm=speeds,
        curve_torque=torques,
        ratio=given["ratio"],
        circumference=given["circumference"],
        engagement_rpm=given["engagement"],
        efficiency=given["efficiency"],
        wheel_inertia=given["wheel_inertia"],
        engine_inertia=given["engine_inertia"],
        torque_scale=given["torque_scale"],
    )


def _road(given: Mapping[str, Any]) -> Road:
    return Road(
        given["mass"],
        given["rolling"],
        given["drag_area"],
        given["air_density"],
        given["headwind"],
        given["grade"],
    )


def _told(run: Run) -> Outcome:
    return Outcome(
        {
            "time": run.time,
            "distance": run.distance,
            "end-speed": run.end_speed,
            "lock-speed": run.lock_speed,
        },
        () if run.reached else (f"{run.text().capitalize()}.",),
    )


def _accelerate(target: float, start: float, **given: Any) -> Outcome:
    return _told(accelerate(_train(given), _road(given), target, start))


def _over(distance: float, start: float, **given: Any) -> Outcome:
    return _told(over_distance(_train(given), _road(given), distance, start))


def _full(**given: Any) -> float:
    return full_speed(_train(given), _road(given))


def _force(speed: float, mass: float, **given: Any) -> Outcome:
    train = _train(given)
    locked = speed >= train.lock_speed
    turns = max(train.engagement_rpm, 60 * train.ratio * speed / train.circumference)
    numbers = {"force": road_force(train, speed), "torque": torque_at(train, turns)}
    return Outcome(
        numbers | {"rpm": turns, "effective-mass": effective_mass(train, mass, locked)},
        ("The clutch is locked." if locked else "The clutch still slips.",),
    )


def _allowed(observed: float, target: float, start: float, **given: Any) -> Outcome:
    there = given | {one.argument: given[f"reference_{one.argument}"] for one in _DAY}
    test, reference = ((_train(one), _road(one)) for one in (given, there))
    found = allowed_time(observed, test, reference, target, start)
    return Outcome(
        {
            "corrected": found.corrected,
            "share": found.share,
            "model-test": found.model_test,
            "model-reference": found.model_reference,
        },
        (f"Observed {observed:.2f} s comes first. {_CORRECT}",),
    )


def _sensitivities(target: float, **given: Any) -> Outcome:
    time, top = sensitivities(_train(given), _road(given), target)
    numbers = {}
    for prefix, found in (("time", time), ("top", top)):
        for name in found.__struct_fields__:
            numbers[f"{prefix}-{name.replace('_', '-')}"] = getattr(found, name)
    return Outcome(numbers)


def _rows(prefix: str, what: str, unit: str) -> tuple[Output, ...]:
    relative = f"{what}, % per % of"
    return (
        Output(f"{prefix}-torque", f"{relative} torque", "", 3),
        Output(f"{prefix}-density-fixed-torque", f"{relative} air, torque kept", "", 3),
        Output(f"{prefix}-density-with-torque", f"{relative} air, torque with it", "", 3),
        Output(f"{prefix}-mass", f"{relative} mass", "", 3),
        Output(f"{prefix}-headwind", f"{what}, {unit} per m/s of headwind", "", 3),
        Output(f"{prefix}-grade", f"{what}, {unit} per 0.1 % of grade", "", 3),
    )


RUNS: tuple[Formula, ...] = (
    Formula(
        id="wheel-force", title="Force at the wheel at full throttle",
        inputs=(SPEED, MASS, *_TRAIN),
        outputs=(Output("force", "force at the wheel", "N", 1),
                 Output("torque", "torque of the engine", "N·m", 2),
                 Output("rpm", "engine speed", "rpm", 0),
                 Output("effective-mass", "mass with turning parts", "kg", 1)),
        compute=_force,
        equation="torque x ratio x efficiency / radius, the engine at the engagement speed while "
        "the clutch slips; mass + wheel inertia/R² (+ engine inertia (ratio/R)² when locked)",
        source="closed form; straight lines between the points of the torque curve",
        covers=("drive.road_force", "drive.torque_at", "drive.effective_mass"),
    ),
    Formula(
        id="acceleration", title="Time and way from one speed to another at full throttle",
        inputs=(_TARGET, _START, *_TRAIN, *_ROAD), outputs=_RUN_OUT, compute=_accelerate,
        equation="integral of effective mass dv/(force - road load)", source=_MODEL,
        covers=("drive.accelerate",), caution=STEP,
    ),
    Formula(
        id="run-over-distance", title="Time over a distance at full throttle",
        inputs=(DISTANCE, _START, *_TRAIN, *_ROAD), outputs=_RUN_OUT, compute=_over,
        equation="as acceleration, until the way fits", source=_MODEL,
        covers=("drive.over_distance",), caution=STEP,
    ),
    Formula(
        id="full-speed", title="Top speed by the torque curve",
        inputs=(*_TRAIN, *_ROAD), outputs=(Output("speed", "top speed", "km/h", 1),),
        compute=_full, equation="where force at the wheel and road load meet first",
        source="root found by bisection", covers=("drive.full_speed",), caution=STEP,
    ),
    Formula(
        id="allowed-time", title="A time brought to other air, wind and grade",
        inputs=(Input("observed", "time as taken", "s"), _TARGET, _START, *_TRAIN, *_ROAD,
                *_REFERENCE),
        outputs=(Output("corrected", "time in the other conditions", "s", 2),
                 Output("share", "times the time as taken", "", 4),
                 Output("model-test", "model on the day", "s", 2),
                 Output("model-reference", "model in the other conditions", "s", 2)),
        compute=_allowed, equation="time x model time there / model time on the day",
        source="ratio method; closed form", covers=("drive.allowed_time", "drive.model_time"),
    ),
    Formula(
        id="sensitivities", title="What air, wind, grade and mass do to a time and to top speed",
        inputs=(_TARGET, *_TRAIN, *_ROAD),
        outputs=(*_rows("time", "time", "s"), *_rows("top", "speed", "m/s")),
        compute=_sensitivities, equation="central differences of the model",
        source="central differences; the time's also as integrals, closed form",
        covers=("drive.sensitivities",),
    ),
)  # fmt: skip
