"""Check-case quantities of topic E and of the road loads of topic F, answered by core.drive."""

from __future__ import annotations

import math
from typing import Any

from core import drive
from tests.core.reference.reading import Answers, Inputs, Rule
from tests.core.reference.roadtests import road_tests

_CIRCUMFERENCE = ("rolling_circumference", "circumference")
_RPM = ("engine_speed", "rpm")
_POWER = ("power_at_wheel", "power")


def _ratio(given: Inputs) -> float:
    if given.has("ratio"):
        return float(given.get("ratio"))
    stages = given.get("stages_driver_driven_teeth", "stages")
    return drive.overall_ratio([(a, b) for a, b in stages])


def gearing(given: Inputs) -> Answers:
    def rpm_at(text: str) -> float:
        return drive.rpm(float(text), _ratio(given), given.get(*_CIRCUMFERENCE))

    def road_speed() -> float:
        return drive.speed(given.get(*_RPM), _ratio(given), given.get(*_CIRCUMFERENCE))

    answers: dict[str, Any] = {
        "ratio": lambda: _ratio(given),
        "(?:theoretical_)?speed(?:_mph|_kmh)?": road_speed,
        r"engine_speed_at_([\d.]+)_m_s": rpm_at,
        "slip": lambda: drive.apparent_slip(
            given.get("measured_speed"),
            given.get(*_RPM),
            _ratio(given),
            given.get(*_CIRCUMFERENCE),
        ),
    }
    return answers


def growth(given: Inputs) -> Answers:
    rest, fast = (
        given.get("rolling_circumference_static"),
        given.get("rolling_circumference_at_speed"),
    )

    def difference() -> float:
        rpm, ratio = given.get(*_RPM), _ratio(given)
        return drive.speed(rpm, ratio, fast) - drive.speed(rpm, ratio, rest)

    return {"growth": lambda: drive.tyre_growth(rest, fast), "speed_difference": difference}


def circumference(given: Inputs) -> Answers:
    return {
        "circumference_from_diameter": lambda: drive.circumference_from_diameter(
            given.get("tyre_diameter")
        ),
        "rolling_circumference": lambda: drive.rolling_circumference(
            given.get("rollout_distance"), given.get("rollout_turns")
        ),
    }


def pairs(given: Inputs) -> Answers:
    def ranked() -> tuple[drive.ClosestPair, ...]:
        return drive.closest_pairs(
            given.get("driver_teeth"),
            given.get("driven_teeth"),
            given.get(*_RPM),
            given.get(*_CIRCUMFERENCE),
            given.get("target_speed"),
        )

    return {
        "best_pair": lambda: [ranked()[0].driver, ranked()[0].driven],
        "speed_of_best": lambda: ranked()[0].speed,
        "runner_up_pair": lambda: [ranked()[1].driver, ranked()[1].driven],
    }


def chain(given: Inputs) -> Answers:
    pitch = given.get("chain_pitch", "pitch", default=0.0127)

    def length() -> drive.ChainLength:
        return drive.chain_links(
            pitch, given.get("driver_teeth"), given.get("driven_teeth"), given.get("shaft_distance")
        )

    return {
        "pitch_diameter": lambda: drive.pitch_diameter(pitch, given.get("teeth")),
        "(?:exact_)?(?:chain_)?length": lambda: length().exact,
        "(?:chain_)?links": lambda: (
            drive.check_links(given.get("links")) if given.has("links") else length().links
        ),
    }


def stopping(given: Inputs) -> Answers:
    return {
        "stopping_distance": lambda: drive.stopping_distance(
            given.get("speed"),
            given.get("reaction_time", "reaction", default=1.0),
            given.get("deceleration", default=3.0),
        )
    }


def road(given: Inputs) -> drive.Road:
    return drive.Road(
        given.get("mass"),
        given.get("crr", "rolling_resistance", default=0.0),
        given.get("cda", "drag_area"),
        given.get("air_density"),
        given.get("headwind", default=0.0),
        given.get("grade", default=0.0),
    )


def load(given: Inputs) -> Answers:
    return {"force": lambda: drive.road_load(road(given), given.get("speed"))}


def terminal(given: Inputs) -> Answers:
    return {"(?:top|terminal)_speed": lambda: drive.top_speed(road(given), given.get(*_POWER))}


def constant_power(given: Inputs) -> Answers:
    mass, power = given.get("mass"), given.get(*_POWER)
    return {
        "time_to_speed": lambda: drive.speed_time(mass, power, given.get("speed")),
        "time_to_distance": lambda: drive.distance_time(mass, power, given.get("distance")),
        "speed_at_distance": lambda: drive.distance_speed(mass, power, given.get("distance")),
    }


def with_drag(given: Inputs) -> Answers:
    mass, power, k = given.get("mass"), given.get(*_POWER), drive.air_factor(road(given))
    return {
        "time_to_speed": lambda: drive.drag_speed_time(mass, power, k, given.get("speed")),
        "speed_at_distance": lambda: drive.drag_distance_speed(
            mass, power, k, given.get("distance")
        ),
        "terminal_speed": lambda: drive.drag_terminal_speed(power, k),
    }


def coast(given: Inputs) -> Answers:
    mass, f0, f2 = given.get("effective_mass", "mass"), given.get("f0"), given.get("f2")
    start, end = given.get("start_speed"), given.get("end_speed", default=0.0)
    return {
        "speed_after_time": lambda: drive.coast_speed(mass, f0, f2, start, given.get("time")),
        "time_to_end_speed": lambda: drive.coast_time(mass, f0, f2, start, end),
        "distance_to_end_speed": lambda: drive.coast_distance(mass, f0, f2, start, end),
    }


def coast_fit(given: Inputs) -> Answers:
    def fit() -> drive.CoastFit:
        mass = given.get("effective_mass", "mass")
        return drive.fit_coast(mass, given.get("time"), given.get("speed"))

    return {"f0": lambda: fit().f0, "f2": lambda: fit().f2}


def two_way_coast(given: Inputs) -> Answers:
    def found() -> drive.TwoWayCoast:
        return drive.two_way_coast(
            given.get("effective_mass", "mass"),
            given.get("f0"),
            given.get("f2"),
            given.get("speed"),
            given.get("wind_along_strip", "wind", default=0.0),
            given.get("grade", default=0.0),
        )

    return {
        "mean_force": lambda: found().mean_force,
        "bias_over_still_air_level": lambda: found().bias,
        "half_difference": lambda: found().half_difference,
    }


def two_way(given: Inputs) -> Answers:
    def found() -> drive.TwoWayTopSpeed:
        return drive.two_way_top_speed(
            given.get("still_air_top_speed"), given.get("wind", "wind_along_strip")
        )

    return {
        "upwind": lambda: found().upwind,
        "downwind": lambda: found().downwind,
        "mean_of_speeds": lambda: found().mean_of_speeds,
        "bias_of_mean": lambda: found().bias_of_mean,
        "speed_from_mean_of_times": lambda: found().from_mean_of_times,
        "bias_from_mean_of_times": lambda: found().bias_from_times,
    }


def elasticity(given: Inputs) -> Answers:
    def found() -> drive.Elasticity:
        return drive.top_speed_elasticity(road(given), given.get(*_POWER), given.get("alpha"))

    return {
        "dlnv_dlnrho": lambda: found().density,
        "dv_dw(?:ind)?|dv_dheadwind": lambda: found().wind,
        "rolling_share_of_power": lambda: found().rolling_share,
    }


def plausibility(given: Inputs) -> Answers:
    masses, powers, times = road_tests()
    x = given.get("distance")
    n = len(times)
    eta = drive.fit_efficiency(masses, powers, times, x)
    model = [drive.elapsed_from_power(m, p, x, eta) for m, p in zip(masses, powers, strict=True)]
    mean, mean_model = sum(times) / n, sum(model) / n
    squares = sum((t - t0) ** 2 for t, t0 in zip(times, model, strict=True))
    about_mean = sum((t - mean) ** 2 for t in times)

    def left_out(i: int) -> float:
        m, p, t = (column[:i] + column[i + 1 :] for column in (masses, powers, times))
        own = drive.fit_efficiency(m, p, t, x)
        return times[i] - drive.elapsed_from_power(masses[i], powers[i], x, own)

    def correlation() -> float:
        both = sum((t - mean) * (m - mean_model) for t, m in zip(times, model, strict=True))
        return both / math.sqrt(about_mean * sum((m - mean_model) ** 2 for m in model))

    return {
        "eta": lambda: eta,
        "rmse": lambda: math.sqrt(squares / n),
        "r_squared_about_mean": lambda: 1 - squares / about_mean,
        "loo_rmse": lambda: math.sqrt(sum(left_out(i) ** 2 for i in range(n)) / n),
        "correlation": correlation,
    }


RULES = (
    Rule("E", "slip|ratio|road speed", gearing),
    Rule("E", "growth", growth),
    Rule("E", "circumference", circumference),
    Rule("E", "sprocket pair", pairs),
    Rule("E", "pitch diameter|chain|links", chain),
    Rule("E", "stopping", stopping),
    Rule("E", "speed|rpm", gearing),
    Rule("F", "stopping", stopping),
    Rule("F", "road load", load),
    Rule("F", "coast-down fit|fit of f0", coast_fit),
    Rule("F", "two-direction", two_way_coast),
    Rule("F", "coast", coast),
    Rule("F", "two-way", two_way),
    Rule("F", "elasticity", elasticity),
    Rule("F", "outside check|mtcars|road tests", plausibility),
    Rule("F", "no loss", constant_power),
    Rule("F", "drag only|with .*drag", with_drag),
    Rule("F", "constant power$", constant_power),
    Rule("F", "terminal|top speed", terminal),
)
