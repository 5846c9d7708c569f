"""Formula pages of the engine: volumes, crank, motion, cam, lift, margins, clay, projection."""

from core.engine.cam import (
    CamEvents,
    CamTiming,
    advanced,
    cam_timing,
    events_from_centres,
)
from core.engine.clay import (
    ClayReading,
    ClayState,
)
from core.engine.closest import (
    NEAR_TOP,
    gap_curve,
)
from core.engine.crank import (
    DeadCentres,
    dead_centres,
    piston_travel,
    travel_from,
)
from core.engine.geometry import (
    chamber_for_ratio,
    clearance_volume,
    compression_ratio,
    disc_volume,
    head_gap,
    swept_volume,
)
from core.engine.instruments import (
    INSTRUMENTS,
    Instrument,
    find_instrument,
    reading_range,
)
from core.engine.lift import (
    LiftTable,
    MeasuredAt,
    advanced_table,
)
from core.engine.lift_text import (
    LiftRows,
    read_lift_rows,
)
from core.engine.margins import (
    USUAL_MINIMUMS,
    UsualMinimum,
    coil_bind_margin,
    deck_after_stroke,
    pushrod_length_change,
    pushrod_rub_margin,
    retainer_margin,
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
from core.engine.projection import (
    Projection,
    ValveAngles,
    project_clay,
)
from core.engine.train import (
    LobeLift,
    ValveTrain,
)
from core.engine.trapped import (
    trapped_ratio,
    trapped_volume,
)
from core.engine.valve import (
    CheckedDuration,
    checked_duration,
    duration_difference,
    lobe_lift_for,
    lobe_table,
    valve_lift,
)

__all__ = [
    "INSTRUMENTS",
    "NEAR_TOP",
    "USUAL_MINIMUMS",
    "CamEvents",
    "CamTiming",
    "CheckedDuration",
    "ClayReading",
    "ClayState",
    "DeadCentres",
    "Instrument",
    "LiftRows",
    "LiftTable",
    "LobeLift",
    "MeasuredAt",
    "Projection",
    "UsualMinimum",
    "ValveAngles",
    "ValveTrain",
    "advanced",
    "advanced_table",
    "cam_timing",
    "chamber_for_ratio",
    "checked_duration",
    "clearance_volume",
    "coil_bind_margin",
    "compression_ratio",
    "dead_centres",
    "deck_after_stroke",
    "disc_volume",
    "duration_difference",
    "events_from_centres",
    "find_instrument",
    "gap_curve",
    "head_gap",
    "inertia_force",
    "lobe_lift_for",
    "lobe_table",
    "mean_piston_speed",
    "peak_piston_speed",
    "piston_acceleration",
    "piston_speed",
    "piston_travel",
    "project_clay",
    "pushrod_length_change",
    "pushrod_rub_margin",
    "read_lift_rows",
    "reading_range",
    "relative_rod_load",
    "retainer_margin",
    "rim_speed",
    "ring_stress",
    "swept_volume",
    "trapped_ratio",
    "trapped_volume",
    "travel_from",
    "valve_lift",
]
