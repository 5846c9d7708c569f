"""The sums behind the derived values, one row each, in the units of the slots."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from core.drive import overall_ratio, speed
from core.engine import (
    clearance_volume,
    coil_bind_margin,
    compression_ratio,
    disc_volume,
    head_gap,
    mean_piston_speed,
    relative_rod_load,
    swept_volume,
    valve_lift,
)
from core.ranged import Ranged
from core.setup.readings import Reading
from core.setup.sheets import Sheet

__all__ = ["SUMS", "Sum", "gear_inputs", "gear_ratio", "no_fixed_ratio", "si_scale"]

_MM = 1e-3  # m
_CM3 = 1e-6  # m³
_KMH = 3.6  # km/h in a m/s

_SI = {"mm": _MM, "cm³": _CM3, "m": 1.0, "kg": 1.0, "rpm": 1.0, "deg": 1.0, "kPa": 1e3}


def si_scale(unit: str) -> float:
    """Return how many SI units one of a slot's unit is; 1 for what is counted."""
    return _SI.get(unit, 1.0)


def _never(_: Sheet) -> str:
    return ""


def _unbounded(_: Mapping[str, Reading]) -> Ranged | None:
    return None


def _nothing_more(_: Sheet) -> tuple[str, ...]:
    return ()


@dataclass(frozen=True)
class Sum:
    """One derived value: what goes in, and how it comes out."""

    id: str
    label: str
    unit: str
    decimals: int
    formula: str  # in words
    inputs: tuple[str, ...]  # slot ids; `compute` takes them by name, in their slots' units
    compute: Callable[..., float]
    more_inputs: Callable[[Sheet], tuple[str, ...]] = _nothing_more  # those a sheet adds
    refuses: Callable[[Sheet], str] = _never  # a sentence when there is no such value
    bounded: Callable[[Mapping[str, Reading]], Ranged | None] = _unbounded  # with stale inputs

    def inputs_on(self, sheet: Sheet) -> tuple[str, ...]:
        """Return the slots that go in on this sheet."""
        return self.inputs + self.more_inputs(sheet)


def _swept(bore: float, stroke: float) -> float:
    return swept_volume(bore * _MM, stroke * _MM) / _CM3


def _ratio(
    bore: float,
    stroke: float,
    chamber_volume: float,
    gasket_thickness: float,
    gasket_bore: float,
    deck: float,
    crown_volume: float,
) -> float:
    clearance = clearance_volume(
        chamber_volume * _CM3,
        bore * _MM,
        deck * _MM,
        gasket_bore * _MM,
        gasket_thickness * _MM,
        crown_volume * _CM3,
    )
    return compression_ratio(swept_volume(bore * _MM, stroke * _MM), clearance)


def _ratio_after_milling(held: Mapping[str, Reading]) -> Ranged | None:
    """Return where the ratio lies once the head was milled and the chamber not yet poured.

    Milling takes at most the cut times the hole of the gasket off the chamber, and at least
    nothing; so the ratio lies between what it was and what that much less gives.
    """
    chamber = held["chamber_volume"]
    only = [slot for slot, reading in held.items() if reading.stale] == ["chamber_volume"]
    if not only or chamber.stale_by is None:
        return None
    old = {slot: reading.value for slot, reading in held.items() if reading.value is not None}
    most = disc_volume(old["gasket_bore"] * _MM, chamber.stale_by * _MM) / _CM3
    less = old | {"chamber_volume": old["chamber_volume"] - most}
    low, high = _ratio(**old), _ratio(**less)
    return Ranged(low, low, high)


def _lift_intake(lobe_lift_intake: float, rocker_ratio: float, lash_intake: float) -> float:
    return valve_lift(lobe_lift_intake * _MM, rocker_ratio, lash_intake * _MM) / _MM


def _lift_exhaust(lobe_lift_exhaust: float, rocker_ratio: float, lash_exhaust: float) -> float:
    return valve_lift(lobe_lift_exhaust * _MM, rocker_ratio, lash_exhaust * _MM) / _MM


def _margin(fitted: float, solid: float, lift: float) -> float:
    return coil_bind_margin(fitted * _MM, solid * _MM, lift * _MM) / _MM


def _margin_intake(spring_fitted_height: float, spring_solid_height: float, **lift: float) -> float:
    return _margin(spring_fitted_height, spring_solid_height, _lift_intake(**lift))


def _margin_exhaust(
    spring_fitted_height: float, spring_solid_height: float, **lift: float
) -> float:
    return _margin(spring_fitted_height, spring_solid_height, _lift_exhaust(**lift))


def _gap(deck: float, gasket_thickness: float) -> float:
    return head_gap(deck * _MM, gasket_thickness * _MM) / _MM


def _piston_speed(stroke: float, planned_rpm: float) -> float:
    return mean_piston_speed(stroke * _MM, planned_rpm)


def _rod_load(planned_rpm: float) -> float:
    return relative_rod_load(planned_rpm)


def gear_ratio(**teeth: float) -> float:
    """Return the overall ratio from the teeth of the slots that are in the drive."""
    stages = [(teeth["engine_sprocket_teeth"], teeth["final_sprocket_teeth"])]
    if "jackshaft_in_teeth" in teeth:
        stages = [
            (teeth["engine_sprocket_teeth"], teeth["jackshaft_in_teeth"]),
            (teeth["jackshaft_out_teeth"], teeth["final_sprocket_teeth"]),
        ]
    return overall_ratio(stages)


def _per_thousand(circumference: float, **teeth: float) -> float:
    return speed(1000.0, gear_ratio(**teeth), circumference) * _KMH


def _mass(**masses: float) -> float:
    return sum(masses.values())


def _recorded(sheet: Sheet, slot: str) -> bool:
    reading = sheet.readings.get(slot)
    return reading is not None and reading.state != "not fitted"


_GEARS = ("engine_sprocket_teeth", "final_sprocket_teeth")
_JACKSHAFT_TEETH = ("jackshaft_in_teeth", "jackshaft_out_teeth")
_JACKSHAFT = ("jackshaft", "jackshaft_in", "jackshaft_out", *_JACKSHAFT_TEETH)


def _jackshaft(sheet: Sheet) -> tuple[str, ...]:
    """Return the teeth of a jackshaft if the sheet knows of one."""
    return _JACKSHAFT_TEETH if any(_recorded(sheet, slot) for slot in _JACKSHAFT) else ()


def gear_inputs(sheet: Sheet) -> tuple[str, ...]:
    """Return the slots whose teeth make the overall ratio of this sheet."""
    return _GEARS + _jackshaft(sheet)


def no_fixed_ratio(sheet: Sheet) -> str:
    """Return a sentence if the drive has no fixed ratio, else nothing."""
    kind = sheet.readings.get("clutch_kind")
    return "A belt variator has no fixed ratio." if kind and kind.text == "belt variator" else ""


def _ballast(sheet: Sheet) -> tuple[str, ...]:
    return ("ballast",) if _recorded(sheet, "ballast") else ()


_RATIO_INPUTS = (
    "bore", "stroke", "chamber_volume", "gasket_thickness", "gasket_bore", "deck", "crown_volume",
)  # fmt: skip
_INTAKE = ("lobe_lift_intake", "rocker_ratio", "lash_intake")
_EXHAUST = ("lobe_lift_exhaust", "rocker_ratio", "lash_exhaust")
_SPRING = ("spring_fitted_height", "spring_solid_height")
_LIFT = "lobe lift x rocker ratio - lash"
_MARGIN = "fitted height - solid height - valve lift"

SUMS: tuple[Sum, ...] = (
    Sum("swept_volume", "swept volume", "cm³", 1, "0.7854 x bore² x stroke",
        ("bore", "stroke"), _swept),
    Sum("compression_ratio", "compression ratio", ":1", 2,
        "(swept + clearance) / clearance; clearance = chamber + gasket bore area x crushed "
        "thickness + bore area x deck + crown",
        _RATIO_INPUTS, _ratio, bounded=_ratio_after_milling),
    Sum("head_gap", "piston-to-head gap", "mm", 2, "deck + crushed gasket thickness",
        ("deck", "gasket_thickness"), _gap),
    Sum("valve_lift_intake", "intake valve lift", "mm", 2, _LIFT, _INTAKE, _lift_intake),
    Sum("valve_lift_exhaust", "exhaust valve lift", "mm", 2, _LIFT, _EXHAUST, _lift_exhaust),
    Sum("spring_margin_intake", "intake spring margin", "mm", 2, _MARGIN,
        (*_SPRING, *_INTAKE), _margin_intake),
    Sum("spring_margin_exhaust", "exhaust spring margin", "mm", 2, _MARGIN,
        (*_SPRING, *_EXHAUST), _margin_exhaust),
    Sum("mean_piston_speed", "mean piston speed at planned rpm", "m/s", 1,
        "2 x stroke x rpm / 60", ("stroke", "planned_rpm"), _piston_speed),
    Sum("relative_rod_load", "rod load at planned rpm, against 3,600", "times", 1,
        "(rpm / 3600)²", ("planned_rpm",), _rod_load),
    Sum("overall_ratio", "overall ratio", ":1", 2, "driven teeth / driving teeth, over all stages",
        _GEARS, gear_ratio, more_inputs=_jackshaft, refuses=no_fixed_ratio),
    Sum("speed_per_1000", "speed per 1,000 rpm", "km/h", 2,
        "1000 / overall ratio x circumference x 0.06; slip of 2 to 3 % comes off",
        (*_GEARS, "circumference"), _per_thousand, more_inputs=_jackshaft,
        refuses=no_fixed_ratio),
    Sum("total_mass", "total mass", "kg", 1, "machine + rider in gear + ballast, if recorded",
        ("machine_mass", "rider_mass"), _mass, more_inputs=_ballast),
)  # fmt: skip
"""Every sum, in the order it is shown."""
