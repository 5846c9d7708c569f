"""Slots of controls, fastener passes, masses, rider and timing gear.

Ranges: common practice, no source; the maker's torque sheet always comes first.
"""

from core.setup.tables.rows import Group, Slot

__all__ = ["RIDER"]

_controls = Group("controls")
_bolts = Group("fasteners")
_mass = Group("mass and rider")
_timing = Group("timing gear")


def _torque(name: str, words: str, typical: tuple[float, float]) -> Slot:
    return _bolts.setting(f"torque_{name}", f"{words} torque", "N·m", typical, (1, 250), 0,
                          condition=True)  # fmt: skip


RIDER = (
    _controls.part("throttle"),
    _controls.part("throttle_cable", follows=("throttle",)),
    _controls.setting("throttle_springs", "throttle return springs", "springs", (2, 2), (0, 4), 0,
                      whole=True, condition=True),
    _controls.choice("throttle_full_open", "throttle opens fully", ("yes", "no"), condition=True),
    _controls.part("kill_switch", "kill switch or lanyard"),
    _controls.text("guards", "chain and clutch guards", condition=True),
    _torque("rod", "rod bolt", (8, 25)),
    _torque("head", "head bolt", (8, 40)),
    _torque("flywheel", "flywheel nut", (60, 80)),
    _torque("side_cover", "side cover bolt", (8, 25)),
    _torque("mount", "engine mount bolt", (8, 40)),
    _torque("axle", "axle nut", (20, 80)),
    _mass.measured("machine_mass", "machine mass, wet", "kg", (35, 90), (15, 400), 1,
                   condition=True, instrument="scales"),
    _mass.text("rider", condition=True),
    _mass.text("rider_gear", condition=True),
    _mass.measured("rider_mass", "rider mass in gear", "kg", (45, 120), (20, 250), 1,
                   condition=True, instrument="scales"),
    _mass.setting("ballast", "ballast", "kg", (0, 20), (0, 150), 1, condition=True,
                  instrument="scales"),
    _mass.text("ballast_place", "where the ballast sits", condition=True),
    _mass.choice("rider_position", "rider position", ("upright", "tucked", "seat mark")),
    _timing.text("timing_gear", condition=True),
    _timing.setting("logger_rate", "logger rate", "Hz", (1, 25), (0.1, 100), None,
                    condition=True),
    _timing.setting("tacho_pulses", "tacho pulses per turn", "pulses", (0.5, 2), (0.25, 8), None,
                    condition=True),
)  # fmt: skip
