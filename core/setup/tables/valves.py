"""Slots of the valve train: valves, springs, rockers, pushrods, cam, lash and the gaps of it all.

Ranges: common practice, no source.
"""

from core.setup.tables.rows import Group

__all__ = ["VALVES"]

_train = Group("valve train")

_VALVES = ("valves_intake", "valves_exhaust")
_TOP = ("head", "head_milled", "head_gasket", "gasket_thickness")
_LOW = ("engine_block", "block_decked", "crank", "stroke", "rod", "rod_length", "piston")
_ROCKERS = ("rockers", "rocker_ratio")
_LIFT = ("cam", "lobe_lift_intake", "lobe_lift_exhaust", *_ROCKERS)
_STACK = ("springs", "spring_shims", "retainers", "keepers", *_VALVES, "head")
_LASHED = (*_ROCKERS, "cam", "pushrods", "pushrod_length", "lifters", *_VALVES, *_TOP,
           "block_decked", "engine_block")  # fmt: skip
_GAP = (*_LIFT, "cam_centre", *_VALVES, *_TOP, *_LOW)
_ZERO_LASH = "0 means held open when hot: sure?"

VALVES = (
    _train.part("valves_intake", "intake valve"),
    _train.part("valves_exhaust", "exhaust valve"),
    _train.fact("valve_diameter_intake", "valves_intake", "intake valve head diameter", "mm",
                (25, 28), (15, 40), 1),
    _train.fact("valve_diameter_exhaust", "valves_exhaust", "exhaust valve head diameter", "mm",
                (23, 26), (15, 40), 1),
    _train.fact("valve_length_intake", "valves_intake", "intake valve length", "mm",
                None, (30, 150), 2),
    _train.fact("valve_length_exhaust", "valves_exhaust", "exhaust valve length", "mm",
                None, (30, 150), 2),
    _train.text("valve_angles_intake", "intake valve angle cut", of="valves_intake"),
    _train.text("valve_angles_exhaust", "exhaust valve angle cut", of="valves_exhaust"),
    _train.part("springs", "valve springs"),
    _train.measured("spring_seat_load", "valve spring seat load", "N", (40, 120), (15, 400), 0,
                    follows=_STACK),
    _train.measured("spring_fitted_height", "valve spring fitted height, the lower one", "mm",
                    (18, 25), (10, 40), 1, follows=_STACK, instrument="calliper"),
    _train.fact("spring_solid_height", "springs", "valve spring solid height", "mm",
                (10, 16), (5, 30), 1, instrument="calliper", usual_state="measured"),
    _train.fact("spring_rate", "springs", "valve spring rate", "N/mm", (4, 15), (1, 60), 1),
    _train.setting("spring_shims", "valve spring shims", "mm", (0, 1.5), (0, 5), 2,
                   follows=("springs",)),
    _train.limit("valve_train_rpm_limit", "springs", "valve train rpm limit",
                 follows=("retainers", "keepers")),
    _train.part("retainers", follows=("springs",)),
    _train.part("keepers", follows=("retainers",)),
    _train.measured("retainer_margin", "retainer-to-guide margin at full lift", "mm",
                    (1, 3), (-0.5, 8), 2, follows=(*_STACK, *_LIFT), instrument="calliper"),
    _train.part("rockers"),
    _train.fact("rocker_ratio", "rockers", "rocker ratio", ":1", (1.0, 1.4), (0.7, 2.0), 2),
    _train.part("pushrods", follows=("rockers",)),
    _train.fact("pushrod_length", "pushrods", "pushrod length", "mm", (120, 145), (80, 200), 2,
                follows=(*_ROCKERS, "cam", *_TOP, "block_decked", "engine_block"),
                usual_state="measured", instrument="calliper"),
    _train.part("cam"),
    _train.fact("lobe_lift_intake", "cam", "intake lobe lift", "mm", (5.5, 8.0), (3, 12), 2,
                instrument="dial_gauge"),
    _train.fact("lobe_lift_exhaust", "cam", "exhaust lobe lift", "mm", (5.5, 8.0), (3, 12), 2,
                instrument="dial_gauge"),
    _train.fact("cam_duration_intake", "cam", "intake duration at 1.27 mm", "deg",
                (200, 250), (120, 320), 0),
    _train.fact("cam_duration_exhaust", "cam", "exhaust duration at 1.27 mm", "deg",
                (200, 250), (120, 320), 0),
    _train.fact("lobe_centre_angle", "cam", "lobe centre angle", "deg", (102, 112), (85, 125), 1),
    _train.setting("cam_centre", "installed intake centre", "deg", (98, 112), (80, 130), 1,
                   follows=("cam",), instrument="degree_wheel"),
    _train.choice("compression_release", "compression release", ("fitted", "removed"),
                  follows=("cam",)),
    _train.part("lifters", follows=("cam",)),
    _train.choice("lifters_matched", "lifters matched to the lobes", ("yes", "no"),
                  follows=("lifters", "cam"), condition=True),
    _train.setting("lash_intake", "intake lash", "mm", (0.05, 0.15), (0, 0.6), 2,
                   follows=_LASHED, instrument="feeler", at_zero=_ZERO_LASH),
    _train.setting("lash_exhaust", "exhaust lash", "mm", (0.05, 0.20), (0, 0.6), 2,
                   follows=_LASHED, instrument="feeler", at_zero=_ZERO_LASH),
    _train.measured("lash_head_temperature", "head temperature when lash was set", "°C",
                    (0, 40), (-20, 250), 0, condition=True),
    _train.measured("valve_gap_intake", "intake valve-to-piston gap", "mm", (1.0, 4.0), (0, 12), 1,
                    follows=(*_GAP, "lash_intake"), instrument="clay"),
    _train.measured("valve_gap_exhaust", "exhaust valve-to-piston gap", "mm", (1.0, 4.0), (0, 12),
                    1, follows=(*_GAP, "lash_exhaust"), instrument="clay"),
    _train.choice("valve_gap_method", "valve-to-piston gap taken with",
                  ("clay", "light springs and dial"), condition=True),
)  # fmt: skip
