"""Which changes of flywheel, spark, speed limits, fuel, air, exhaust and oil make checks due."""

from __future__ import annotations

from core.checks.conditions import (
    fewer_hours,
    governor_back,
    governor_off,
    limiter_raised,
    planned_rpm_raised,
    reworked,
)
from core.checks.triggers import Trigger

__all__ = ["SPINNING_TRIGGERS"]

_FLYWHEEL = (
    "taper_clean",
    "flywheel_key",
    "flywheel_nut",
    "flywheel_rpm_limit",
    "coil_gap",
    "timing_measured",
    "flywheel_guard",
)
_NO_LIMIT = ("governor_out", "throttle_springs", "limits_entered", "planned_rpm", "rpm_guard")
_JET = ("plug_run", "jet_note", "jet_air")

SPINNING_TRIGGERS: tuple[Trigger, ...] = (
    Trigger(
        row="flywheel",
        slots=("flywheel",),
        rules=_FLYWHEEL,
        because="The energy in the rim goes with the square of the rpm.",
        otherwise="A burst wheel, shrapnel at knee height.",
    ),
    Trigger(
        row="flywheel machined",
        slots=("flywheel_mass",),
        when=reworked,
        rules=_FLYWHEEL,
        because="A wheel that was cut is no longer the wheel its maker states a limit for.",
        otherwise="A burst wheel, shrapnel at knee height.",
    ),
    Trigger(
        row="timing key, coil or limiter",
        slots=("key_offset", "coil", "rev_limiter", "limiter_rpm", "ignition_timing"),
        rules=("coil_gap", "timing_measured", "knock_look", "limiter_tested"),
        because="Spark too early with more compression overloads the crown.",
        otherwise="A holed piston.",
    ),
    Trigger(
        row="governor removed or held",
        slots=("governor",),
        when=governor_off,
        rules=_NO_LIMIT,
        because="Nothing limits the engine's speed any more.",
        otherwise="Rod or flywheel finds the limit.",
    ),
    Trigger(
        row="governor put back",
        slots=("governor",),
        when=governor_back,
        rules=("governor_acts",),
        because="Everyone will rely on it.",
        otherwise="A limit that is not there.",
    ),
    Trigger(
        row="planned rpm raised",
        slots=("planned_rpm",),
        when=planned_rpm_raised,
        rules=(*_NO_LIMIT, "sprocket_speed"),
        because="Load on the rod grows with the square of the rpm: 6,000 against 3,600 is "
        "2.8 times.",
        otherwise="A thrown rod.",
    ),
    Trigger(
        row="limiter raised or gone",
        slots=("limiter_rpm", "rev_limiter"),
        when=limiter_raised,
        rules=(*_NO_LIMIT, "sprocket_speed"),
        because="Load on the rod grows with the square of the rpm: 6,000 against 3,600 is "
        "2.8 times.",
        otherwise="A thrown rod.",
    ),
    Trigger(
        row="plug",
        slots=("plug",),
        rules=("plug_reach", "plug_torque", "plug_heat"),
        because="Plugs of the same thread come in several reaches.",
        otherwise="The piston meets the plug.",
    ),
    Trigger(
        row="carb or intake adapter",
        slots=("carb", "venturi", "intake_adapter", "intake_length"),
        rules=("throttle_snap", "intake_leak", "intake_clear", "plug_run", "idle_engagement"),
        because="Slide, cable and joints were apart.",
        otherwise="A hanging slide: a runaway.",
    ),
    Trigger(
        row="jet or needle",
        slots=("main_jet", "pilot_jet", "needle_clip", "float_height"),
        rules=_JET,
        because="The mixture is another one.",
        otherwise="Lean at full throttle seizes it.",
    ),
    Trigger(
        row="idle",
        slots=("idle_mixture", "idle_rpm"),
        rules=("idle_engagement",),
        because="Idle and clutch have to stay apart.",
        otherwise="The machine creeps.",
    ),
    Trigger(
        row="fuel kind",
        slots=("fuel_kind", "fuel_ethanol"),
        rules=("fuel_seals", "fuel_jet_basis", "extinguisher_suits", "fuel_drained"),
        because="Alcohol burns unseen and wants far more fuel for the same air.",
        otherwise="A leak, a lean engine, a fire nobody sees.",
    ),
    Trigger(
        row="fuel octane",
        slots=("fuel_octane",),
        rules=("ratio_fuel",),
        because="Compression and timing were chosen for another octane.",
        otherwise="Knock.",
    ),
    Trigger(
        row="fuel line, tap, tank or its mount",
        slots=("fuel_line", "fuel_tap", "tank", "tank_mount", "fuel_feed", "fuel_head"),
        rules=(
            "fuel_leak",
            "fuel_vent",
            "fuel_distance",
            "fuel_tap",
            "fuel_relook",
        ),
        because="Fuel may reach the hot pipe.",
        otherwise="A fire with the rider on it.",
    ),
    Trigger(
        row="tank vent",
        slots=("tank_vent",),
        rules=("fuel_vent",),
        because="A tank that cannot breathe stops feeding.",
        otherwise="Lean at the end of a long pull.",
    ),
    Trigger(
        row="air filter",
        slots=("air_filter", "air_filter_oiled", "air_filter_cleaned"),
        rules=("filter_jetting", "filter_clamp", "filter_throttle"),
        because="The clamp was open.",
        otherwise="Grit in the bore.",
    ),
    Trigger(
        row="exhaust",
        slots=("exhaust", "exhaust_diameter", "exhaust_length", "silencer"),
        rules=("exhaust_nuts", "exhaust_distance", "plug_run", "noise_limit"),
        because="Leaner, hotter, louder.",
        otherwise="A burn, or the place is lost.",
    ),
    Trigger(
        row="oil drained or side cover off",
        slots=("side_cover", "oil_grade", "oil_fill"),
        rules=("oil_volume", "oil_level", "side_seal", "oil_sensor", "oil_leak_hot"),
        because="The crankcase may be empty.",
        otherwise="A dry start seizes it in ninety seconds.",
    ),
    Trigger(
        row="oil changed",
        slots=("oil_hours",),
        when=fewer_hours,
        rules=("oil_volume", "oil_level", "side_seal", "oil_sensor", "oil_leak_hot"),
        because="The crankcase may be empty.",
        otherwise="A dry start seizes it in ninety seconds.",
    ),
)
