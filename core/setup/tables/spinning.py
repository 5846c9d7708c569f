"""Slots of spark, flywheel, governor and the speeds the builder plans.

Ranges: common practice, no source. An rpm limit is what a maker states, never a sum of this tool.
"""

from core.setup.tables.rows import Group

__all__ = ["SPINNING"]

_spark = Group("ignition")
_wheel = Group("flywheel and governor")

SPINNING = (
    _spark.setting("ignition_timing", "ignition timing before TDC", "deg", (20, 34), (-5, 50), 0,
                   follows=("key_offset", "flywheel", "coil"), instrument="degree_wheel",
                   usual_state="measured"),
    _spark.setting("key_offset", "timing key offset", "deg", (0, 8), (-12, 12), 0),
    _spark.part("coil", "ignition coil"),
    _spark.setting("coil_gap", "coil air gap", "mm", (0.2, 0.5), (0.05, 2), 2,
                   follows=("coil", "flywheel"), instrument="feeler"),
    _spark.part("rev_limiter"),
    _spark.setting("limiter_rpm", "rev limiter speed", "rpm", (3600, 7000), (1000, 14000), 0,
                   follows=("rev_limiter", "coil")),
    _spark.part("plug", "spark plug"),
    _spark.text("plug_heat_range", "spark plug heat range", of="plug"),
    _spark.setting("plug_gap", "spark plug gap", "mm", (0.6, 0.9), (0.2, 1.6), 2,
                   follows=("plug",), instrument="feeler"),
    _spark.part("wiring"),
    _wheel.part("flywheel"),
    _wheel.text("flywheel_material", of="flywheel"),
    _wheel.limit("flywheel_rpm_limit", "flywheel", "flywheel rpm limit"),
    _wheel.fact("flywheel_mass", "flywheel", "flywheel mass", "kg", (1.2, 4.0), (0.5, 8), 2),
    _wheel.choice("governor", "governor", ("active", "held", "removed")),
    _wheel.choice("governor_parts_out", "all governor parts out", ("yes", "no"),
                  follows=("governor",), condition=True),
    _wheel.choice("governor_hole_plugged", "governor hole plugged", ("yes", "no"),
                  follows=("governor",), condition=True),
    _wheel.setting("planned_rpm", "planned max rpm", "rpm", (3600, 7000), (1000, 12000), 0),
    _wheel.setting("idle_rpm", "idle rpm", "rpm", (1200, 1900), (600, 3500), 0,
                   instrument="tachometer"),
)  # fmt: skip
