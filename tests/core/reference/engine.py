"""Check-case quantities of topics C and D, answered by core.engine."""

from __future__ import annotations

from typing import Any

from core import engine
from core.errors import UnknownInputError
from tests.core.reference.reading import Answers, Inputs, Rule

_STROKE = ("stroke", "stroke_2r")
_RPM = ("engine_speed", "rpm")
_OFFSET = ("pin_offset", "offset")


def _swept(given: Inputs) -> float:
    if given.has("swept_volume"):
        return float(given.get("swept_volume"))
    return engine.swept_volume(given.get("bore"), given.get(*_STROKE))


def _clearance(given: Inputs) -> float:
    if given.has("clearance_volume"):
        return float(given.get("clearance_volume"))
    bore = given.get("bore")
    return engine.clearance_volume(
        given.get("chamber_volume"),
        bore,
        given.get("deck_clearance", "deck", default=0.0),
        given.get("gasket_bore", default=bore),
        given.get("gasket_thickness", default=0.0),
        given.get("piston_dish", "crown_volume", default=0.0),
    )


def volumes(given: Inputs) -> Answers:
    def chamber_for(ratio: str) -> float:
        return engine.chamber_for_ratio(
            float(ratio), _swept(given), _clearance(given), given.get("chamber_volume")
        )

    answers: dict[str, Any] = {
        "swept_volume": lambda: _swept(given),
        "clearance_volume": lambda: _clearance(given),
        "(?:static_)?compression_ratio": lambda: engine.compression_ratio(
            _swept(given), _clearance(given)
        ),
        r"chamber_volume_for_cr_([\d.]+)": chamber_for,
    }
    return answers


def crank(given: Inputs) -> Answers:
    stroke, rod = given.get(*_STROKE), given.get("rod_length", "rod")
    offset = given.get(*_OFFSET, default=0.0)
    angle = given.get("crank_angle_after_vertical", "crank_angle", default=90.0)
    return {
        "piston_travel": lambda: engine.piston_travel(angle, stroke, rod, offset),
        "true_stroke": lambda: engine.dead_centres(stroke, rod, offset).stroke,
        "tdc_angle": lambda: engine.dead_centres(stroke, rod, offset).top,
        "bdc_angle": lambda: engine.dead_centres(stroke, rod, offset).bottom,
    }


def trapped(given: Inputs) -> Answers:
    return {
        "(?:dynamic|trapped)_compression_ratio": lambda: engine.trapped_ratio(
            given.get("bore"),
            given.get(*_STROKE),
            given.get("rod_length"),
            given.get("clearance_volume"),
            given.get("intake_closing_abdc", "ivc_abdc"),
            given.get(*_OFFSET, default=0.0),
        ),
        "static_compression_ratio": lambda: engine.compression_ratio(
            _swept(given), given.get("clearance_volume")
        ),
    }


def speeds(given: Inputs) -> Answers:
    stroke, rpm = given.get(*_STROKE), given.get(*_RPM)
    return {
        "mean_piston_speed": lambda: engine.mean_piston_speed(stroke, rpm),
        "peak_piston_speed": lambda: engine.peak_piston_speed(stroke, given.get("rod_length"), rpm),
        "(?:peak_)?acceleration_tdc": lambda: engine.piston_acceleration(
            0.0, stroke, given.get("rod_length"), rpm
        ),
        "relative_rod_load.*": lambda: engine.relative_rod_load(rpm),
    }


def flywheel(given: Inputs) -> Answers:
    def rim() -> float:
        return engine.rim_speed(given.get("rim_diameter", "diameter"), given.get(*_RPM))

    return {
        "rim_speed": rim,
        "hoop_stress": lambda: engine.ring_stress(rim(), given.get("density")),
    }


def cam(given: Inputs) -> Answers:
    def timing() -> engine.CamTiming:
        names = ("ivo_btdc", "ivc_abdc", "evo_bbdc", "evc_atdc")
        return engine.cam_timing(engine.CamEvents(*(given.get(name) for name in names)))

    def events() -> engine.CamEvents:
        return engine.events_from_centres(
            given.get("intake_duration"),
            given.get("exhaust_duration"),
            given.get("intake_centreline_atdc", "intake_centre_atdc"),
            given.get("exhaust_centreline_btdc", "exhaust_centre_btdc"),
        )

    return {
        "intake_duration": lambda: timing().intake_duration,
        "exhaust_duration": lambda: timing().exhaust_duration,
        "intake_cent.*_atdc": lambda: timing().intake_centre,
        "exhaust_cent.*_btdc": lambda: timing().exhaust_centre,
        "lobe_separation": lambda: timing().separation,
        "overlap": lambda: timing().overlap,
        "advance": lambda: timing().advance,
        "ivo_btdc": lambda: events().intake_opens,
        "ivc_abdc": lambda: events().intake_closes,
        "evo_bbdc": lambda: events().exhaust_opens,
        "evc_atdc": lambda: events().exhaust_closes,
    }


def _table(given: Inputs) -> engine.LiftTable:
    angles = given.get("crank_angle_atdc", "crank_angle_atdc_overlap", "crank_angle")
    at: engine.MeasuredAt = "lobe" if given.has("lobe_lift") else "valve"
    return engine.LiftTable(tuple(angles), tuple(given.get("lobe_lift", "valve_lift")), at)


def duration(given: Inputs) -> Answers:
    lift = given.get("checking_lift", "checking_valve_lift", "checking_lobe_lift")
    ratio, lash = given.get("rocker_ratio", default=1.0), given.get("lash_at_valve", default=0.0)

    def found() -> engine.CheckedDuration:
        return engine.checked_duration(_table(given), lift, ratio, lash)

    return {
        "opens_at": lambda: found().opens,
        "closes_at": lambda: found().closes,
        "duration(?:_true_for_this_lobe)?": lambda: found().duration,
        "equivalent_lobe_lift": lambda: engine.lobe_lift_for(lift, ratio, lash),
    }


def valve(given: Inputs) -> Answers:
    return {
        "valve_lift": lambda: engine.valve_lift(
            given.get("lobe_lift"),
            given.get("rocker_ratio"),
            given.get("lash_at_valve", "lash", default=0.0),
        )
    }


def _train(given: Inputs, side: str) -> engine.ValveTrain:
    part = given.nested(side)
    fixed: dict[str, float] = {
        "deck": part.get("deck", default=0.0),
        "stroke": part.get(*_STROKE, default=given.get(*_STROKE, default=0.054)),
        "rod": part.get("rod_length", default=given.get("rod_length", default=0.084)),
        "offset": given.get(*_OFFSET, default=0.0),
        "advance": part.get("cam_advance", "advance", default=0.0),
    }
    return engine.ValveTrain(
        part.get("rocker_ratio"),
        part.get("lash_at_valve", "lash"),
        part.get("gasket", "gasket_thickness", default=0.0),
        **fixed,
    )


def _projected(given: Inputs, lobe: engine.LobeLift | engine.LiftTable) -> engine.Projection:
    if given.has("clay_thickness_min"):
        reading = engine.ClayReading(engine.ClayState.TOUCHED, given.get("clay_thickness_min"))
    else:
        applied = given.get("clay_initial_thickness")
        reading = engine.ClayReading(engine.ClayState.NOT_TOUCHED, applied=applied)
    angles = engine.ValveAngles(
        given.get("valve_stem_angle_to_cylinder", default=0.0),
        given.get("piston_surface_normal_angle_to_cylinder", default=0.0),
    )
    return engine.project_clay(reading, _train(given, "tested"), _train(given, "new"), angles, lobe)


def projection(given: Inputs) -> Answers:
    def found() -> engine.Projection:
        return _projected(given, _table(given))

    return {
        "closest_approach_tested": lambda: found().closest_old,
        "closest_approach_new": lambda: found().closest_new,
        "projected_clearance": lambda: found().exact,
        "point_estimate_at_old_angle": lambda: found().optimistic,
        "lower_bound_within_60deg.*": lambda: found().guaranteed_near_top,
        "lower_bound_any_angle": lambda: found().guaranteed_any_angle,
    }


def not_touched(given: Inputs) -> Answers:
    reading = engine.ClayReading(
        engine.ClayState.NOT_TOUCHED, applied=given.get("clay_initial_thickness")
    )

    def found() -> engine.Projection:
        near = given.get("max_lobe_lift_within_60deg_of_tdc", default=None)
        return _projected(given, engine.LobeLift(given.get("max_lobe_lift"), near))

    def word(text: str) -> str:
        if not text.startswith("at least"):
            raise UnknownInputError("The reading is not a bound.")
        return "at least"

    return {
        "clearance_tested_is": lambda: word(reading.text()),
        "clearance_tested_bound": lambda: reading.gap,
        "clearance_new_is": lambda: word(found().text()),
        "clearance_new_guaranteed_any_angle": lambda: found().guaranteed_any_angle,
        "clearance_new_guaranteed_within_60deg.*": lambda: found().guaranteed_near_top,
    }


def margins(given: Inputs) -> Answers:
    lift = given.get("max_valve_lift", "valve_lift")
    return {
        "coil_bind_margin": lambda: engine.coil_bind_margin(
            given.get("installed_height"), given.get("coil_bind_height", "solid_height"), lift
        ),
        "retainer_seal_margin": lambda: engine.retainer_margin(
            given.get("retainer_to_seal_closed", "retainer_to_guide_closed"), lift
        ),
    }


RULES = (
    Rule("C", "dynamic|trapped", trapped),
    Rule("C", "swept|clearance volume|compression ratio|chamber", volumes),
    Rule("C", "piston travel|true stroke|slider crank", crank),
    Rule("C", "piston speed|acceleration|rod load", speeds),
    Rule("C", "flywheel", flywheel),
    Rule("D", "NOT touched", not_touched),
    Rule("D", "project a", projection),
    Rule("D", "cam events|-> events|centrelines", cam),
    Rule("D", "duration at", duration),
    Rule("D", "valve lift", valve),
    Rule("D", "coil-bind|retainer", margins),
)
