"""The sentences that stand beside a number which could hurt someone."""

from __future__ import annotations

__all__ = ["FUEL", "GAP", "MARGIN", "RUN_OUT", "SPINNING", "STEP"]

GAP = (
    "Geometry only: rod stretch, float, flex and carbon take from it."
    " Measure it, and turn the engine two turns by hand before the first start."
)
MARGIN = "A sum from readings: measure the margin itself before the first start."
FUEL = "Whether fuel and timing stand this ratio is not in the sum: look for knock."
SPINNING = (
    "A sum, not a limit: what rod, flywheel, valve train and clutch stand is for their makers"
    " to say, and one that is not known counts as the governed factory speed."
)
RUN_OUT = (
    "A planning sum: brake, surface and rider decide. Walk the run-out, and leave at least twice"
    " this much."
)
STEP = (
    "Lowest rpm limit, run-out and permission come before speed: a speed that a sum reaches is not"
    " one to ride."
)
