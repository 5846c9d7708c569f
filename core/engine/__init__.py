"""Formula pages of the engine: volumes, crank, motion, cam, lift, margins, clay, projection."""

from core.engine.crank import DeadCentres, check_crank, dead_centres, piston_travel, travel_from
from core.engine.geometry import (
    chamber_for_ratio,
    clearance_volume,
    compression_ratio,
    disc_volume,
    head_gap,
    swept_volume,
)
from core.engine.motion import (
    inertia_force,
    mean_piston_speed,
    peak_piston_speed,
    piston_acceleration,
    piston_speed,
    relative_rod_load,
    rim_speed,
    ring_stress,
)

__all__ = [
    "DeadCentres",
    "chamber_for_ratio",
    "check_crank",
    "clearance_volume",
    "compression_ratio",
    "dead_centres",
    "disc_volume",
    "head_gap",
    "inertia_force",
    "mean_piston_speed",
    "peak_piston_speed",
    "piston_acceleration",
    "piston_speed",
    "piston_travel",
    "relative_rod_load",
    "rim_speed",
    "ring_stress",
    "swept_volume",
    "travel_from",
]
