"""Slots of what goes in and out: carburettor, jets, air filter, exhaust, oil and fuel.

Ranges: common practice, no source; jet number bands are the least certain of all.
"""

from core.setup.tables.rows import Group, NumberSystem

__all__ = ["BREATHING"]

_carb = Group("carburettor and air")
_pipe = Group("exhaust")
_fluid = Group("oil and fuel")

_X100 = ("x100", "x100 mm", "x 100", "x 100 mm", "mm/100", "mm x100", "mm x 100", "1/100 mm")
_THOU = ("thous", "1/1000 in", "mil")
_FLOW = ("flow no", "flow no.", "flow number", "cc/min")

_MAIN = (
    NumberSystem("x100mm", _X100, "hundredths of a millimetre", (65, 125), (30, 250)),
    NumberSystem("thou", _THOU, "thousandths of an inch", (26, 49), (10, 100)),
    NumberSystem("flow", _FLOW, "flow number of its maker", (60, 140), (20, 400)),
)
_PILOT = (
    NumberSystem("x100mm", _X100, "hundredths of a millimetre", (30, 65), (20, 250)),
    NumberSystem("thou", _THOU, "thousandths of an inch", (12, 26), (8, 100)),
    NumberSystem("flow", _FLOW, "flow number of its maker", (20, 70), (10, 400)),
)

BREATHING = (
    _carb.part("carb", "carburettor"),
    _carb.fact("venturi", "carb", "carburettor venturi", "mm", (14, 24), (8, 40), 1),
    _carb.text("main_jet", follows=("carb",), systems=_MAIN),
    _carb.text("pilot_jet", follows=("carb",), systems=_PILOT),
    _carb.setting("needle_clip", "needle clip slot from the top", "", (1, 5), (1, 7), 0,
                  follows=("carb",), whole=True),
    _carb.setting("idle_mixture", "idle mixture screw", "turns", (0.75, 2.5), (0, 8), 2,
                  follows=("carb",)),
    _carb.setting("float_height", "float height", "mm", (10, 25), (0, 40), 1,
                  follows=("carb",)),
    _carb.part("air_filter"),
    _carb.choice("air_filter_oiled", "air filter oiled", ("yes", "no"),
                 follows=("air_filter",), condition=True),
    _carb.text("air_filter_cleaned", "air filter cleaned on", follows=("air_filter",),
               condition=True),
    _carb.part("intake_adapter"),
    _carb.fact("intake_length", "intake_adapter", "intake adapter length", "mm",
               (20, 120), (0, 400), 0),
    _pipe.part("exhaust"),
    _pipe.fact("exhaust_diameter", "exhaust", "exhaust inner diameter", "mm",
               (19, 29), (12, 50), 1),
    _pipe.fact("exhaust_length", "exhaust", "exhaust length to end or silencer", "mm",
               (200, 700), (30, 2000), 0),
    _pipe.choice("silencer", "silencer", ("fitted", "none"), follows=("exhaust",)),
    _fluid.text("oil_grade"),
    _fluid.setting("oil_fill", "oil fill", "ml", (350, 650), (100, 2000), 0,
                   condition=True),
    _fluid.measured("oil_hours", "hours since oil change", "h", (0, 10), (0, 200), 1,
                    condition=True),
    _fluid.choice("oil_sensor", "low-oil sensor", ("live", "disconnected"), condition=True),
    _fluid.choice("fuel_kind", "fuel kind",
                  ("petrol", "ethanol blend", "ethanol", "methanol", "other")),
    _fluid.setting("fuel_octane", "fuel octane", "RON", (91, 102), (80, 120), 0,
                   follows=("fuel_kind",), usual_state="stated"),
    _fluid.setting("fuel_ethanol", "ethanol in the fuel", "%", (0, 10), (0, 100), 0,
                   follows=("fuel_kind",), usual_state="stated"),
    _fluid.measured("fuel_age", "fuel age", "d", (0, 60), (0, 730), 0, condition=True),
    _fluid.measured("fuel_amount", "fuel at the start", "l", (0.3, 3), (0, 15), 1,
                    condition=True),
    _fluid.choice("fuel_feed", "fuel feed", ("gravity", "pulse pump")),
    _fluid.setting("fuel_head", "tank-to-bowl head", "mm", (50, 300), (-800, 800), 0,
                   follows=("tank", "tank_mount", "carb")),
    _fluid.choice("tank_vent", "tank vent", ("open", "closed"), condition=True),
    _fluid.part("tank", "fuel tank"),
    _fluid.fact("tank_volume", "tank", "fuel tank volume", "l", (1, 4), (0, 20), 1),
    _fluid.part("tank_mount", "fuel tank mount", follows=("tank",)),
    _fluid.part("fuel_line"),
    _fluid.part("fuel_tap"),
)  # fmt: skip
