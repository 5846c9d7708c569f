"""Groups of slots that belong together at the bench, by the trade words for them."""

from __future__ import annotations

__all__ = ["CRANK_TRAIN", "FRONT_END", "HEAD_HEIGHTS", "LIFT", "SPROCKETS", "STACK", "VALVES"]

VALVES = (
    "valves_intake",
    "valves_exhaust",
    "valve_diameter_intake",
    "valve_diameter_exhaust",
    "valve_length_intake",
    "valve_length_exhaust",
    "valve_angles_intake",
    "valve_angles_exhaust",
)
"""The valves with their sizes."""

LIFT = (
    "cam",
    "lobe_lift_intake",
    "lobe_lift_exhaust",
    "cam_duration_intake",
    "cam_duration_exhaust",
    "lobe_centre_angle",
    "cam_centre",
    "rockers",
    "rocker_ratio",
)
"""What makes valve lift and its phasing."""

STACK = (
    "springs",
    "spring_shims",
    "spring_solid_height",
    "spring_rate",
    "retainers",
    "keepers",
)
"""What stands on the valve stem."""

HEAD_HEIGHTS = (
    "head",
    "head_milled",
    "head_gasket",
    "gasket_thickness",
    "gasket_thickness_new",
    "block_decked",
)
"""What sets the height of the head above the block."""

CRANK_TRAIN = (
    "engine_block",
    "crank",
    "stroke",
    "rod",
    "rod_length",
    "piston",
    "piston_pin_height",
    "block_decked",
)
"""What sets where the piston crown stands."""

SPROCKETS = ("engine_sprocket", "jackshaft", "jackshaft_in", "jackshaft_out", "final_sprocket")
"""The sprockets, and the shaft between them."""

FRONT_END = ("axle", "hubs", "steering", "track_front", "track_rear", "toe", "camber")
"""Axle, hubs and what steers."""
