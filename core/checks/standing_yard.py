"""The standing checks of workshop and machine."""

from __future__ import annotations

from core.checks.combinations import FRONT_END
from core.checks.rules import Rule

__all__ = ["YARD_RULES"]

_SHOP = "Workshop"
_MACHINE = "Machine"
_FUEL = ("tank", "tank_mount", "fuel_line", "fuel_tap", "fuel_feed", "fuel_kind")
_WHEELS = ("tyre_front", "tyre_rear", "wheel_front", "wheel_rear", "wheel_bearings")

_WORKSHOP_RULES: tuple[Rule, ...] = (
    Rule(
        id="shop_air",
        short="engine runs outdoors only",
        level="start",
        group=_SHOP,
        question="Engine is run outdoors only: not inside, not in an open or closed door bay.",
        because="Carbon monoxide has no smell, and a fan is not enough.",
        otherwise="It is noticed too late.",
    ),
    Rule(
        id="shop_plug_lead",
        short="plug lead off before hands go in",
        level="start",
        group=_SHOP,
        question="Plug lead off and grounded before hands go near chain, clutch or flywheel fan.",
        because="A warm engine can fire from a turn by hand.",
        otherwise="A finger in the chain.",
    ),
    Rule(
        id="shop_stand",
        short="stand, guarded wheel, clear plane",
        level="start",
        group=_SHOP,
        question="Stand rated for the load, raised wheel guarded, nobody in the plane of flywheel "
        "or chain.",
        because="The first start is when parts let go.",
        otherwise="A machine off its stand with the wheel turning, or a part at knee height.",
    ),
    Rule(
        id="shop_eyes",
        short="eye protection",
        level="advice",
        group=_SHOP,
        question="Eye protection on.",
        because="Clips, springs and chips fly.",
        otherwise="An eye.",
    ),
    Rule(
        id="shop_gloves",
        short="gloves off near turning parts",
        level="advice",
        group=_SHOP,
        question="Gloves off near turning parts.",
        because="Cloth is caught before skin is.",
        otherwise="The hand follows the glove.",
    ),
    Rule(
        id="shop_tray",
        short="drip tray",
        level="advice",
        group=_SHOP,
        question="Drip tray under the machine.",
        because="Oil and fuel end up on the floor.",
        otherwise="A slip, a fire, a spoilt yard.",
    ),
    Rule(
        id="shop_alarm",
        short="carbon monoxide alarm",
        level="advice",
        group=_SHOP,
        question="Carbon monoxide alarm working.",
        because="Nobody smells it.",
        otherwise="It is noticed too late.",
    ),
    Rule(
        id="shop_rags",
        short="oily rags in a closed metal bin",
        level="advice",
        group=_SHOP,
        question="Oily rags in a closed metal bin.",
        because="They can heat up by themselves.",
        otherwise="A fire overnight.",
    ),
)

_MACHINE_RULES: tuple[Rule, ...] = (
    Rule(
        id="fuel_no_leak",
        short="no fuel leak",
        level="run",
        group=_MACHINE,
        question="No fuel on line, tap, carb or tank; nothing smells of it.",
        because="Shake and heat open joints that were dry yesterday.",
        otherwise="A fire with the rider on it.",
        slots=("carb", "main_jet", "pilot_jet", "float_height", *_FUEL),
    ),
    Rule(
        id="fasteners",
        short="wheel, axle and mount fasteners",
        level="run",
        group=_MACHINE,
        question="Wheel, axle and mount fasteners tight, pins in, paint marks in line.",
        because="Singles shake nuts off.",
        otherwise="A lost wheel, an engine on the move.",
        slots=(*_WHEELS, *FRONT_END, "engine_mount", "engine_plate", "mount_bolts", "frame"),
    ),
    Rule(
        id="idle_no_drive",
        short="engine does not drive at idle",
        level="run",
        group=_MACHINE,
        question="At idle, off the stand, the engine does not move the machine.",
        because="Idle and clutch springs drift towards each other.",
        otherwise="It leaves without a rider, or into the helper.",
        slots=("clutch", "clutch_springs", "engagement_rpm", "idle_rpm", "idle_mixture", "carb"),
    ),
    Rule(
        id="tyre_wear",
        short="tyre wear",
        level="advice",
        group=_MACHINE,
        question="Tread, cuts and cords of the tyres looked at.",
        because="Small tyres turn fast and wear in the middle.",
        otherwise="A burst at top speed.",
    ),
    Rule(
        id="spare_link",
        short="spare chain link",
        level="advice",
        group=_MACHINE,
        question="Spare link of the right pitch packed.",
        because="A lost clip ends the day.",
        otherwise="A half-day lost.",
    ),
    Rule(
        id="tool_roll",
        short="tool roll",
        level="advice",
        group=_MACHINE,
        question="Tools for everything that may be touched today packed.",
        because="The nearest spanner is at home.",
        otherwise="A half-day lost, or a nut done up by hand.",
    ),
    Rule(
        id="spare_cable",
        short="spare cable",
        level="advice",
        group=_MACHINE,
        question="Spare throttle and brake cable packed.",
        because="A frayed cable is found at the strip.",
        otherwise="A half-day lost, or a run on a frayed cable.",
    ),
    Rule(
        id="paint_marks",
        short="bolts paint-marked",
        level="advice",
        group=_MACHINE,
        question="Bolts that matter carry a paint mark.",
        because="A mark out of line is seen in passing.",
        otherwise="A loose bolt is found by its absence.",
    ),
)

YARD_RULES: tuple[Rule, ...] = (*_WORKSHOP_RULES, *_MACHINE_RULES)
