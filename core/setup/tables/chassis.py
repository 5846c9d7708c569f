"""Slots of the chassis: tyres, wheels, brakes, frame, mounts.

Ranges: common practice, no source.
"""

from core.setup.tables.rows import Group

__all__ = ["CHASSIS"]

_tyres = Group("tyres and wheels")
_brakes = Group("brakes")
_frame = Group("frame")

CHASSIS = (
    _tyres.part("tyre_front", "front tyre"),
    _tyres.part("tyre_rear", "rear tyre"),
    _tyres.text("tyre_size_front", "front tyre size", of="tyre_front"),
    _tyres.text("tyre_size_rear", "rear tyre size", of="tyre_rear"),
    _tyres.measured("tread_front", "front tread depth", "mm", (2, 8), (0, 25), 1,
                    follows=("tyre_front",), condition=True),
    _tyres.measured("tread_rear", "rear tread depth", "mm", (2, 8), (0, 25), 1,
                    follows=("tyre_rear",), condition=True),
    _tyres.choice("tube_front", "front tyre with tube", ("tube", "tubeless"),
                  follows=("tyre_front", "wheel_front")),
    _tyres.choice("tube_rear", "rear tyre with tube", ("tube", "tubeless"),
                  follows=("tyre_rear", "wheel_rear")),
    _tyres.setting("tyre_pressure_front", "front pressure, cold", "kPa", (80, 200), (20, 450), 0,
                   follows=("tyre_front",), instrument="pressure_gauge"),
    _tyres.setting("tyre_pressure_rear", "rear pressure, cold", "kPa", (80, 200), (20, 450), 0,
                   follows=("tyre_rear",), instrument="pressure_gauge"),
    _tyres.measured("tyre_pressure_front_hot", "front pressure, hot", "kPa", (80, 200), (20, 450),
                    0, condition=True, instrument="pressure_gauge"),
    _tyres.measured("tyre_pressure_rear_hot", "rear pressure, hot", "kPa", (80, 200), (20, 450),
                    0, condition=True, instrument="pressure_gauge"),
    _tyres.part("wheel_front", "front wheel"),
    _tyres.part("wheel_rear", "rear wheel"),
    _tyres.part("axle"),
    _tyres.part("hubs"),
    _tyres.part("wheel_bearings"),
    _tyres.setting("track_front", "front track", "mm", None, (300, 1600), 0),
    _tyres.setting("track_rear", "rear track", "mm", None, (300, 1600), 0),
    _tyres.setting("toe", "toe", "mm", (0, 4), (-20, 20), 1),
    _tyres.setting("camber", "camber", "deg", (-3, 0), (-10, 10), 1),
    _tyres.setting("stagger", "stagger", "mm", (0, 40), (-100, 100), 0,
                   follows=("tyre_rear",)),
    _brakes.part("brake"),
    _brakes.text("brake_kind", "kind of brake", of="brake"),
    _brakes.text("brake_fluid_date", "brake fluid from", follows=("brake",), condition=True),
    _brakes.measured("brake_pad", "brake pad or band thickness", "mm", (2, 6), (0, 20), 1,
                     follows=("brake",), condition=True),
    _brakes.setting("brake_free_travel", "brake lever free travel", "mm", (5, 20), (0, 80), 0,
                    follows=("brake",), condition=True),
    _frame.part("frame"),
    _frame.fact("wheelbase", "frame", "wheelbase", "mm", (850, 1150), (500, 2000), 0),
    _frame.setting("ride_height", "ride height", "mm", (30, 180), (0, 400), 0,
                   follows=("frame", "tyre_front", "tyre_rear")),
    _frame.text("weld_notes", follows=("frame",)),
    _frame.part("steering", "steering and front end"),
    _frame.part("seat"),
    _frame.part("engine_mount"),
    _frame.part("engine_plate", follows=("engine_mount",)),
    _frame.part("mount_bolts", "engine mount bolts", follows=("engine_mount", "engine_plate")),
)  # fmt: skip
