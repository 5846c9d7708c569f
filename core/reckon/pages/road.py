"""Road load, constant power, top speed, wind, and coast-down."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from core.drive import (
    Road,
    air_factor,
    coast_distance,
    coast_speed,
    coast_time,
    distance_speed,
    distance_time,
    drag_distance_speed,
    drag_speed_time,
    drag_terminal_speed,
    elapsed_from_power,
    fit_coast,
    road_load,
    rolling_force,
    speed_time,
    top_speed,
    top_speed_elasticity,
    top_speed_in_wind,
    two_way_coast,
    two_way_top_speed,
)
from core.reckon.cautions import STEP
from core.reckon.formula import Formula, Input, Outcome, Output
from core.reckon.inputs import (
    AIR_DENSITY,
    DISTANCE,
    DRAG_AREA,
    GRADE,
    HEADWIND,
    MASS,
    POWER,
    ROLLING,
    SPEED,
)

__all__ = ["ROAD"]

_FOX = "closed form; G. T. Fox, Am. J. Phys. 41 (1973) 311 (from memory)"
_KORST = "closed form; White and Korst, SAE 720099 (1972), SAE J1263 (from memory)"
_ROAD = (MASS, ROLLING, DRAG_AREA, AIR_DENSITY, HEADWIND, GRADE)
_AIR = Input("air-factor", "density x drag area / 2", "N·s²/m²")
_F0 = Input("f0", "constant force: rolling and slope", "N")
_F2 = Input("f2", "force over speed squared: air", "N·s²/m²")
_HEAVY = Input("mass", "mass, turning parts counted in", "kg", instrument="scales")
_START = Input("start", "speed at the beginning", "km/h")
_END = Input("end", "speed at the end", "km/h", required=False, default="0")
_TRACE = Input("trace", "coast-down, rows of seconds and km/h", kind="speed trace")
_STILL = Input("still", "top speed in still air", "km/h")


def _on_road(
    formula: Callable[..., float | Outcome],
) -> Callable[..., float | Outcome]:
    """Return the formula with machine, air and strip taken as one."""

    def reckoned(
        mass: float,
        rolling: float,
        drag_area: float,
        air_density: float,
        headwind: float,
        grade: float,
        **more: float,
    ) -> float | Outcome:
        return formula(Road(mass, rolling, drag_area, air_density, headwind, grade), **more)

    return reckoned


def _load(road: Road, speed: float) -> Outcome:
    numbers = {"force": road_load(road, speed), "rolling": rolling_force(road)}
    return Outcome(numbers | {"air-factor": air_factor(road)})


def _elasticity(road: Road, power: float, alpha: float) -> Outcome:
    found = top_speed_elasticity(road, power, alpha)
    numbers = {"density": found.density, "power": found.power, "wind": found.wind}
    return Outcome(numbers | {"rolling-share": found.rolling_share})


def _two_way(still: float, wind: float) -> Outcome:
    found = two_way_top_speed(still, wind)
    return Outcome(
        {
            "mean": found.mean_of_speeds,
            "bias": found.bias_of_mean,
            "from-times": found.from_mean_of_times,
            "bias-from-times": found.bias_from_times,
            "upwind": found.upwind,
            "downwind": found.downwind,
        },
        ("With a real, falling power curve the sign of the bias can turn round.",),
    )


def _two_way_coast(**given: float) -> Outcome:
    found = two_way_coast(**given)
    return Outcome(
        {"mean": found.mean_force, "bias": found.bias, "half-difference": found.half_difference}
    )


def _fit(mass: float, trace: tuple[Sequence[float], Sequence[float]]) -> Outcome:
    times, speeds = trace
    found = fit_coast(mass, times, speeds)
    return Outcome(
        {
            "f0": found.f0,
            "f2": found.f2,
            "f0-sd": found.f0_sd,
            "f2-sd": found.f2_sd,
            "residual": found.residual,
        }
    )


ROAD: tuple[Formula, ...] = (
    Formula(
        id="road-load", title="Force that holds back at a speed", inputs=(SPEED, *_ROAD),
        outputs=(Output("force", "road load", "N", 1),
                 Output("rolling", "of it rolling and slope", "N", 1),
                 Output("air-factor", "density x drag area / 2", "N·s²/m²", 4)),
        compute=_on_road(_load),
        equation="rolling x m g cos + m g sin + density x drag area/2 x (v + w)|v + w|",
        source="closed form; g 9.80665 m/s²",
        covers=("drive.road_load", "drive.rolling_force", "drive.air_factor"),
    ),
    Formula(
        id="top-speed", title="Top speed where constant power meets the road load",
        inputs=(POWER, *_ROAD), outputs=(Output("speed", "top speed", "km/h", 1),),
        compute=_on_road(top_speed), equation="highest root of k v (v + w)|v + w| + f0 v = power",
        source="closed form, root found numerically", covers=("drive.top_speed",), caution=STEP,
    ),
    Formula(
        id="top-speed-elasticity", title="How top speed follows air, wind and power",
        inputs=(POWER, *_ROAD,
                Input("alpha", "power goes with density to this exponent", required=False,
                      default="1")),
        outputs=(Output("density", "speed, % per % of density", "", 3),
                 Output("power", "speed, % per % of power", "", 3),
                 Output("wind", "speed, m/s per m/s of headwind", "", 3),
                 Output("rolling-share", "share that rolling and slope take", "%",
                        1)),
        compute=_on_road(_elasticity),
        equation="(alpha P - A)/(R + 3A); P/(R + 3A); -2A/(R + 3A); R power of rolling, A of air",
        source="implicit derivative of R + A = P; closed form",
        covers=("drive.top_speed_elasticity",),
    ),
    Formula(
        id="time-to-speed", title="Time to a speed at constant power, no losses",
        inputs=(MASS, POWER, SPEED), outputs=(Output("time", "time", "s", 2),),
        compute=speed_time, equation="m v²/(2 P)", source=_FOX, covers=("drive.speed_time",),
    ),
    Formula(
        id="time-over-distance", title="Time over a distance at constant power, no losses",
        inputs=(MASS, POWER, DISTANCE), outputs=(Output("time", "time", "s", 2),),
        compute=distance_time, equation="(9 m x²/(8 P))^(1/3)", source=_FOX,
        covers=("drive.distance_time",),
    ),
    Formula(
        id="speed-over-distance", title="Speed after a distance at constant power, no losses",
        inputs=(MASS, POWER, DISTANCE), outputs=(Output("speed", "speed", "km/h", 1),),
        compute=distance_speed, equation="(3 P x/m)^(1/3)", source=_FOX,
        covers=("drive.distance_speed",), caution=STEP,
    ),
    Formula(
        id="drag-terminal-speed", title="Speed at which air drag takes all of the power",
        inputs=(POWER, _AIR), outputs=(Output("speed", "speed", "km/h", 1),),
        compute=drag_terminal_speed, equation="(P/k)^(1/3)", source="closed form",
        covers=("drive.drag_terminal_speed",), caution=STEP,
    ),
    Formula(
        id="drag-time-to-speed", title="Time to a speed at constant power against air only",
        inputs=(MASS, POWER, _AIR, SPEED), outputs=(Output("time", "time", "s", 2),),
        compute=drag_speed_time,
        equation="(m vT²/P) {ln[(1 + u + u²)/(1 - u)²]/6 - [atan((2u + 1)/sqrt 3) - "
        "atan(1/sqrt 3)]/sqrt 3}, u = v/vT",
        source="integral of m v dv/(P - k v³); closed form", covers=("drive.drag_speed_time",),
    ),
    Formula(
        id="drag-speed-over-distance", title="Speed after a distance against air only",
        inputs=(MASS, POWER, _AIR, DISTANCE), outputs=(Output("speed", "speed", "km/h", 1),),
        compute=drag_distance_speed, equation="vT (1 - exp(-3 k x/m))^(1/3)",
        source="closed form", covers=("drive.drag_distance_speed",), caution=STEP,
    ),
    Formula(
        id="plausible-time", title="Plausible time over a distance from rated power",
        inputs=(MASS, Input("power", "rated power", "kW"), DISTANCE,
                Input("efficiency", "share of it that counts", "%", required=False,
                      default="46.5")),
        outputs=(Output("time", "time", "s", 1),), compute=elapsed_from_power,
        equation="(9 m x²/(8 efficiency P))^(1/3); good to some 6 %",
        source=f"{_FOX}; 46.5 % fits 32 road tests of 1974 (Henderson & Velleman, Biometrics 37 "
        "(1981) 391) with 1.09 s of 17 s",
        covers=("drive.elapsed_from_power",),
    ),
    Formula(
        id="wind-top-speed", title="Top speed in a wind where air takes nearly all of the power",
        inputs=(_STILL, HEADWIND), outputs=(Output("speed", "top speed", "km/h", 1),),
        compute=top_speed_in_wind, equation="root of v (v + w)|v + w| = v0³",
        source="closed form, root found numerically", covers=("drive.top_speed_in_wind",),
        caution=STEP,
    ),
    Formula(
        id="two-way-top-speed", title="What the mean of two directions makes of a wind",
        inputs=(_STILL, Input("wind", "wind along the strip", "m/s")),
        outputs=(Output("mean", "mean of the two speeds", "km/h", 2),
                 Output("bias", "that above still air by", "km/h", 3),
                 Output("from-times", "speed from the mean of the times", "km/h", 2),
                 Output("bias-from-times", "that above still air by", "km/h", 3),
                 Output("upwind", "upwind", "km/h", 2),
                 Output("downwind", "downwind", "km/h", 2)),
        compute=_two_way, equation="near +w²/(9 v0) and -w²/(3 v0)",
        source="series of the root of v (v + w)² = v0³; closed form",
        covers=("drive.two_way_top_speed",),
    ),
    Formula(
        id="coast-speed", title="Speed after coasting for a time",
        inputs=(_HEAVY, _F0, _F2, _START, Input("time", "time", "s")),
        outputs=(Output("speed", "speed", "km/h", 2),), compute=coast_speed,
        equation="sqrt(f0/f2) tan(atan(v0 sqrt(f2/f0)) - t sqrt(f0 f2)/m)", source=_KORST,
        covers=("drive.coast_speed",),
    ),
    Formula(
        id="coast-time", title="Time to coast from one speed to another",
        inputs=(_HEAVY, _F0, _F2, _START, _END), outputs=(Output("time", "time", "s", 2),),
        compute=coast_time, equation="m/sqrt(f0 f2) [atan(v0 s) - atan(v s)], s = sqrt(f2/f0)",
        source=_KORST, covers=("drive.coast_time",),
    ),
    Formula(
        id="coast-distance", title="Way to coast from one speed to another",
        inputs=(_HEAVY, _F0, _F2, _START, _END), outputs=(Output("distance", "way", "m", 1),),
        compute=coast_distance, equation="m/(2 f2) ln[(f0 + f2 v0²)/(f0 + f2 v²)]",
        source=_KORST, covers=("drive.coast_distance",),
    ),
    Formula(
        id="coast-two-way", title="What the mean of two coast-downs leaves of wind and slope",
        inputs=(_HEAVY, _F0, _F2, SPEED, Input("wind", "wind along the strip", "m/s"),
                Input("grade", "grade", "%")),
        outputs=(Output("mean", "mean force", "N", 1), Output("bias", "bias of the mean", "N", 2),
                 Output("half-difference", "half the difference", "N", 1)),
        compute=_two_way_coast,
        equation="mean f0 + f2 v² + f2 w²; bias f2 w²; half difference 2 f2 v w + m g s",
        source="algebra", covers=("drive.two_way_coast",),
    ),
    Formula(
        id="coast-fit", title="Rolling and air coefficients that fit a coast-down",
        inputs=(_HEAVY, _TRACE),
        outputs=(Output("f0", "constant force f0", "N", 2),
                 Output("f2", "force over speed squared f2", "N·s²/m²", 4),
                 Output("f0-sd", "standard error of f0", "N", 2),
                 Output("f2-sd", "standard error of f2", "N·s²/m²", 4),
                 Output("residual", "scatter about the fit", "m/s", 3)),
        compute=_fit, equation="least squares in speed on the closed form of coast-speed",
        source="nonlinear least squares as in SciPy; closed form of coast-speed",
        covers=("drive.fit_coast",),
    ),
)  # fmt: skip
