"""Ratios, circumference, road speed, chain and sprockets for a place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.drive import (
    apparent_slip,
    chain_length,
    chain_links,
    check_links,
    circumference_from_diameter,
    closest_pairs,
    lowest_limit,
    overall_ratio,
    pitch_diameter,
    rolling_circumference,
    rpm,
    speed,
    stopping_distance,
    tyre_growth,
)
from core.reckon.cautions import RUN_OUT, SPINNING, STEP
from core.reckon.formula import COMMON, Formula, Input, Outcome, Output
from core.reckon.inputs import CIRCUMFERENCE, RATIO, RPM, SLIP, SPEED
from core.reckon.sprockets import choices_for
from core.units import format_number

__all__ = ["GEARING"]

_STAGES = Input("stages", "teeth, engine side/wheel side, as 12/60 or 12/20,15/60", kind="stages")
_FURTHER = replace(_STAGES, name="further", label="further stages, if any", required=False)
_PITCH = Input("pitch", "chain pitch", "mm", slot="chain_pitch")
_DRIVER = Input("driver", "teeth of the driver", whole=True)
_DRIVEN = Input("driven", "teeth of the driven", whole=True)
_CENTRES = Input("centres", "shaft distance", "mm", instrument="calliper")
_DRIVERS = Input("drivers", "teeth on hand for the driver, as 11,12,13", kind="teeth")
_DRIVENS = Input("driven", "teeth on hand for the driven", kind="teeth")
_TRAP = Input("trap-speed", "speed expected at the timing mark", "km/h")
_RUN_OUT = Input(
    "run-out", "way from the mark to the end; ? where nobody walked it", "m",
    unknown_counts=True,
)  # fmt: skip
_LIMITS = tuple(
    Input(name, f"rpm limit of the {name.replace('-', ' ')}, as its maker states it", "rpm",
          required=False, slot=slot, unknown_counts=True)
    for name, slot in (("rod", "rod_rpm_limit"), ("flywheel", "flywheel_rpm_limit"),
                       ("valve-train", "valve_train_rpm_limit"), ("clutch", "clutch_rpm_limit"))
)  # fmt: skip
_SLIP_WORDS = f"closed form; slip of 2 to 3 %: {COMMON}"
_CANNOT = (
    "One speed cannot tell slip from a tyre that grew, from a circumference that is off, or from"
    " an error of speed or rpm."
)


def _slip(speed: float, rpm: float, ratio: float, circumference: float) -> Outcome:
    found = apparent_slip(speed, rpm, ratio, circumference)
    small = ("Below zero: the circumference on file is too small.",) if found < 0 else ()
    return Outcome({"slip": found}, (_CANNOT, *small))


def _chain(pitch: float, driver: float, driven: float, centres: float) -> Outcome:
    found = chain_links(pitch, driver, driven, centres)
    numbers = {"exact": chain_length(pitch, driver, driven, centres), "links": float(found.links)}
    return Outcome(numbers | {"centres": found.centres, "movement": found.movement})


def _links(links: float, half_link: str) -> float:
    return float(check_links(links, half_link == "yes"))


def _limit(
    rod: float | None = None,
    flywheel: float | None = None,
    valve_train: float | None = None,
    clutch: float | None = None,
) -> Outcome:
    limits = {"rod": rod, "flywheel": flywheel, "valve train": valve_train, "clutch": clutch}
    name, lowest = lowest_limit(limits)
    missing = ", ".join(part for part, limit in limits.items() if limit is None)
    said = f"Lowest of those that count: {name}."
    counted = (f"Not entered, counted as 3,600: {missing}.",) if missing else ()
    return Outcome({"limit": lowest}, (said, *counted))


def _table(
    drivers: Sequence[int],
    driven: Sequence[int],
    circumference: float,
    trap_speed: float,
    limit: float,
    slip: float,
    run_out: float | None = None,
    further: Sequence[tuple[float, float]] = (),
) -> Outcome:
    found = choices_for(
        drivers, driven, circumference=circumference, trap_speed=trap_speed, limit=limit,
        run_out=run_out, slip=slip, further=further,
    )  # fmt: skip
    return Outcome({"stopping": stopping_distance(trap_speed)}, rows=tuple(c.cells for c in found))


def _closest(
    drivers: Sequence[int],
    driven: Sequence[int],
    rpm: float,
    circumference: float,
    speed: float,
    further: Sequence[tuple[float, float]] = (),
) -> Outcome:
    pairs = closest_pairs(drivers, driven, rpm, circumference, speed, further)
    rows = tuple(
        (f"{p.driver}/{p.driven}", f"{format_number(p.speed * 3.6, 1)} km/h") for p in pairs
    )
    return Outcome({"speed": pairs[0].speed}, rows=rows)


GEARING: tuple[Formula, ...] = (
    Formula(
        id="overall-ratio", title="Overall ratio of all stages", inputs=(_STAGES,),
        outputs=(Output("ratio", "overall ratio", ":1", 3),), compute=overall_ratio,
        equation="driven teeth / driving teeth, over all stages", source="closed form",
        covers=("drive.overall_ratio",),
    ),
    Formula(
        id="road-speed", title="Road speed at an engine speed",
        inputs=(RPM, RATIO, CIRCUMFERENCE, SLIP),
        outputs=(Output("speed", "road speed", "km/h", 1),), compute=speed,
        equation="rpm / ratio x circumference x (1 - slip) x 0.06", source=_SLIP_WORDS,
        covers=("drive.speed",),
    ),
    Formula(
        id="engine-speed", title="Engine speed at a road speed",
        inputs=(SPEED, RATIO, CIRCUMFERENCE, SLIP),
        outputs=(Output("rpm", "engine speed", "rpm", 0),), compute=rpm,
        equation="speed x ratio / (circumference x (1 - slip) x 0.06)", source=_SLIP_WORDS,
        covers=("drive.rpm",), caution=SPINNING,
    ),
    Formula(
        id="apparent-slip", title="Slip that one pair of speed and rpm seems to show",
        inputs=(SPEED, RPM, RATIO, CIRCUMFERENCE),
        outputs=(Output("slip", "apparent slip", "%", 2),), compute=_slip,
        equation="1 - speed / (rpm x circumference x 0.06 / ratio)", source="closed form",
        covers=("drive.apparent_slip",),
    ),
    Formula(
        id="tyre-circumference", title="Circumference of an unloaded tyre from its diameter",
        inputs=(Input("diameter", "diameter over the tread", "mm", instrument="tape"),),
        outputs=(Output("circumference", "circumference, unloaded", "m", 3),),
        compute=circumference_from_diameter,
        equation="3.1416 x diameter; the loaded rolling one is a few per cent less",
        source=f"closed form; a few per cent: {COMMON}",
        covers=("drive.circumference_from_diameter",),
    ),
    Formula(
        id="roll-out", title="Rolling circumference from a roll-out with the rider on",
        inputs=(Input("distance", "rolled", "m", instrument="tape"),
                Input("turns", "turns of the wheel")),
        outputs=(Output("circumference", "rolling circumference", "m", 4),),
        compute=rolling_circumference, equation="distance / turns", source="definition",
        covers=("drive.rolling_circumference",),
    ),
    Formula(
        id="tyre-growth", title="How much a tyre grows at speed",
        inputs=(Input("at-rest", "circumference at walking pace", "m", instrument="tape"),
                Input("at-speed", "circumference at speed", "m", instrument="tape")),
        outputs=(Output("growth", "growth", "%", 2),), compute=tyre_growth,
        equation="circumference at speed / at rest - 1", source="closed form",
        covers=("drive.tyre_growth",),
    ),
    Formula(
        id="pitch-diameter", title="Pitch diameter of a sprocket",
        inputs=(_PITCH, Input("teeth", "teeth", whole=True)),
        outputs=(Output("diameter", "pitch diameter", "mm", 2),), compute=pitch_diameter,
        equation="pitch / sin(180°/teeth)", source="ISO 606 / ASME B29.1 (from memory)",
        covers=("drive.pitch_diameter",),
    ),
    Formula(
        id="chain-length", title="Links of a chain round two sprockets",
        inputs=(_PITCH, _DRIVER, _DRIVEN, _CENTRES),
        outputs=(Output("exact", "links at this distance", "", 2),
                 Output("links", "next even number", "", 0),
                 Output("centres", "shaft distance for those", "mm", 1),
                 Output("movement", "engine moves out by", "mm", 1)),
        compute=_chain,
        equation="2 C cos a + arcs of both sprockets, a = asin((r2 - r1)/C), over the pitch",
        source="open belt over the pitch circles; closed form, distance by bisection",
        covers=("drive.chain_length", "drive.chain_links"),
    ),
    Formula(
        id="link-count", title="Whether a chain can have so many links",
        inputs=(Input("links", "links counted", slot="chain_links"),
                Input("half-link", "a half link is fitted", kind="choice", required=False,
                      default="no", choices=("no", "yes"))),
        outputs=(Output("links", "links", "", 0),), compute=_links,
        equation="whole, 8 or more, even unless a half link is fitted",
        source="inner and outer links alternate", covers=("drive.check_links",),
    ),
    Formula(
        id="lowest-limit", title="Lowest stated rpm limit, one not entered counted as 3,600",
        inputs=_LIMITS, outputs=(Output("limit", "lowest rpm limit", "rpm", 0),), compute=_limit,
        equation="the lowest of the limits; one not entered counts as 3,600",
        source=f"3,600 as the governed speed: {COMMON}", covers=("drive.lowest_limit",),
        caution=SPINNING,
    ),
    Formula(
        id="sprocket-table", title="What each pair of sprockets would do at a place",
        inputs=(_DRIVERS, _DRIVENS, CIRCUMFERENCE, _TRAP,
                Input("limit", "lowest rpm limit", "rpm"), _RUN_OUT, SLIP, _FURTHER),
        outputs=(Output("stopping", "stopping distance from there", "m", 0),),
        compute=_table,
        equation="rpm = speed x ratio / (circumference x (1 - slip) x 0.06); speed at the limit "
        "the other way round; run-out at least twice v + v²/6",
        source=f"closed form; 1 s, 3 m/s² and twice the distance: {COMMON}",
        covers=("drive.sprocket_table",), caution=STEP,
        columns=("Teeth", "Ratio", "Rpm at the mark", "Speed at the limit", "Greyed out because"),
    ),
    Formula(
        id="closest-sprockets", title="Sprocket pairs by how near they come to a speed at an rpm",
        inputs=(_DRIVERS, _DRIVENS, RPM, CIRCUMFERENCE, SPEED, _FURTHER),
        outputs=(Output("speed", "speed of the nearest pair", "km/h", 1),), compute=_closest,
        equation="every pair tried: rpm / ratio x circumference x 0.06", source="closed form",
        covers=("drive.closest_pairs",), columns=("Teeth", "Speed"),
    ),
    Formula(
        id="stopping-distance", title="Way from seeing the mark to standing still",
        inputs=(SPEED,
                Input("reaction", "reaction time", "s", required=False, default="1"),
                Input("deceleration", "deceleration", "m/s²", required=False, default="3")),
        outputs=(Output("distance", "stopping distance", "m", 0),), compute=stopping_distance,
        equation="v x reaction + v²/(2 x deceleration), v in m/s",
        source=f"constant deceleration; 1 s, and 3 m/s² for one small rear brake: {COMMON}",
        covers=("drive.stopping_distance",), caution=RUN_OUT,
    ),
)  # fmt: skip
