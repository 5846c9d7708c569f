"""What a swap costs at the strip: minutes, whether it can be undone there, and what is never asked.

Minutes: common practice, no source; a part's own minutes go first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from core.checks import RULES, CheckRecord

__all__ = [
    "ATTEMPT_MINUTES",
    "COOL_MINUTES",
    "HALF_DAY",
    "SET_UP_MINUTES",
    "Effort",
    "check_minutes",
    "effort_of",
]

Where = Literal["strip", "bench", "never"]
"""``strip``: swapped and swapped back there; ``bench``: another day; ``never``: not suggested."""

HALF_DAY = 240.0  # minutes
SET_UP_MINUTES = 45.0  # walking the strip, checks of every session, warm-up and sighting runs
ATTEMPT_MINUTES = 4.0  # from one attempt to the next
COOL_MINUTES = 75.0  # until a check that holds for a cold engine can be done

_CHECK_MINUTES = {"done": 1.0, "text": 1.0, "value": 3.0, "two values": 5.0, "clay": 30.0}


@dataclass(frozen=True)
class Effort:
    """What it takes to swap one slot once."""

    minutes: float
    where: Where


_STRIP: dict[float, tuple[str, ...]] = {
    3.0: ("rider_position", "idle_rpm", "idle_mixture"),
    5.0: (
        "plug", "plug_gap", "tyre_pressure_front", "tyre_pressure_rear", "air_filter",
        "silencer",
    ),
    10.0: ("main_jet", "pilot_jet", "needle_clip", "coil_gap", "seat"),
    15.0: (
        "coil", "ride_height", "track_front", "track_rear", "toe", "camber", "stagger",
    ),
    20.0: (
        "final_sprocket", "exhaust", "intake_adapter", "wheel_front", "wheel_rear", "oil_grade",
        "lash_intake", "lash_exhaust",
    ),
    25.0: (
        "engine_sprocket", "jackshaft_in", "jackshaft_out", "clutch_springs", "engagement_rpm",
        "carb",
    ),
    30.0: ("clutch", "rockers"),
    40.0: ("pushrods", "tyre_front", "tyre_rear", "jackshaft"),
}  # fmt: skip

_BENCH: dict[float, tuple[str, ...]] = {
    60.0: ("flywheel", "key_offset", "ignition_timing", "float_height", "spring_shims"),
    90.0: ("springs", "retainers", "keepers", "compression_release", "wheel_bearings", "hubs"),
    120.0: ("head", "head_gasket", "gasket_thickness", "axle", "tank", "fuel_feed", "fuel_head"),
    240.0: ("cam", "cam_centre", "lifters", "valves_intake", "valves_exhaust", "side_cover"),
    480.0: ("piston", "rings", "rod", "crank", "engine_block", "engine_bearings", "engine_seals"),
}  # fmt: skip

_NEVER = (
    "governor", "planned_rpm", "limiter_rpm", "rev_limiter", "brake", "throttle",
    "throttle_cable", "kill_switch", "wiring", "bore", "block_decked", "head_milled",
    "weld_notes", "frame", "steering", "engine_mount", "engine_plate", "mount_bolts",
    "fuel_kind", "fuel_octane", "fuel_ethanol", "fuel_line", "fuel_tap", "tank_mount",
    "tube_front", "tube_rear", "chain", "second_chain",
)  # fmt: skip
"""What keeps the machine in hand, cannot be undone, or goes with something else."""

_EFFORTS: dict[str, Effort] = {
    **{slot: Effort(m, "strip") for m, slots in _STRIP.items() for slot in slots},
    **{slot: Effort(m, "bench") for m, slots in _BENCH.items() for slot in slots},
    **{slot: Effort(0.0, "never") for slot in _NEVER},
}
_OWN = Effort(15.0, "strip")  # a slot of the user's own
_UNKNOWN = Effort(120.0, "bench")


def effort_of(slot: str, minutes: float | None = None) -> Effort:
    """Return what it takes to swap a slot once.

    Args:
        slot: id.
        minutes: what the part itself says; None: what is usual.
    """
    usual = _EFFORTS.get(slot, _OWN if slot.startswith("own:") else _UNKNOWN)
    return usual if minutes is None else Effort(minutes, usual.where)


def check_minutes(records: Sequence[CheckRecord]) -> tuple[float, bool]:
    """Return what the checks due after a swap take, and whether one needs a cold engine."""
    rules = [RULES[record.rule] for record in records if record.rule in RULES]
    return sum(_CHECK_MINUTES[rule.answer] for rule in rules), any(rule.cold for rule in rules)
