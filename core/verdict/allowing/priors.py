"""What a small single and its machine usually are, where the log does not know: one row each."""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi

from core.setup import Sheet, derived_value, known_value
from core.setup.sums import no_fixed_ratio

__all__ = ["AIR_EXPONENT", "PRIORS", "Prior", "SheetFacts", "facts_of", "middles"]


@dataclass(frozen=True)
class Prior:
    """One number of the road-load model before the log has spoken.

    Source of every row: common practice, no source, unless its note says otherwise.
    """

    name: str
    middle: float
    share: float  # standard deviation of its logarithm
    note: str


PRIORS: tuple[Prior, ...] = (
    Prior(
        "torque", 1.0, 0.20, "times the usual peak torque for the swept volume, losses taken off"
    ),
    Prior("peak_rpm", 3200.0, 0.20, "1/min of the most torque; factory 2,500, opened up 4,000"),
    Prior("fall", 0.55, 0.25, "width of the torque curve above its peak, in ln of engine speed"),
    Prior("rolling", 0.025, 0.30, "coefficient; soft small tyres, chain drag included"),
    Prior("drag_area", 0.60, 0.25, "m², rider sitting up"),
    Prior("wheels", 4.0, 0.40, "kg that the turning wheels count for"),
    Prior("engine_inertia", 0.008, 0.40, "kg·m², cast flywheel and crank"),
    Prior("engagement", 1.0, 0.04, "times the engagement speed of the sheet"),
)
"""The unknowns that all sheets of a machine share, each log-normal about its middle."""

AIR_EXPONENT = Prior(
    "air_exponent", 1.0, 0.15, "torque goes with the power factor of ISO 1585 to minus this"
)
"""How an engine follows the air: 1 is the standard's own claim, the width common practice."""

_MEAN_PRESSURE = 0.75e6  # Pa over the cycle at the torque peak, side-valve to opened-up pushrod
_EFFICIENCY = 0.85  # of clutch and chain
_SWEPT = (208.0, 0.25)  # cc where bore and stroke are not known; its share of doubt
_MASS = (150.0, 0.15)  # kg with rider
_MACHINE = (65.0, 0.20)  # kg
_RPM_PER_SPEED = (300.0, 0.15)  # 1/min for each m/s, where the gearing is not known
_ENGAGEMENT = (2200.0, 0.15)  # 1/min


@dataclass(frozen=True)
class SheetFacts:
    """What a setup sheet says of the road-load model; what it does not say is usual."""

    torque: float  # N·m, usual peak for the swept volume with the losses taken off
    rpm_per_speed: float  # 1/min for each m/s
    engagement: float  # 1/min
    machine: float  # kg without rider and ballast
    load: float | None  # kg, rider and ballast; None: not recorded
    doubt: float  # share: what is not known of gearing, mass and engagement, in logarithm of time
    missing: tuple[str, ...]  # in words: what is not on the sheet
    refused: str  # why there is no model at all; empty: there is one


def facts_of(sheet: Sheet) -> SheetFacts:
    """Return what a sheet says of the road-load model.

    Args:
        sheet: any, also an empty one.
    """
    swept = derived_value(sheet, "swept_volume").value
    gear = derived_value(sheet, "overall_ratio").value
    circumference = known_value(sheet.readings.get("circumference"))
    engagement = known_value(sheet.readings.get("engagement_rpm"))
    machine = known_value(sheet.readings.get("machine_mass"))
    load = known_value(sheet.readings.get("rider_mass"))
    geared = gear is not None and circumference is not None
    told = {
        "bore and stroke": (swept is not None, _SWEPT[1]),
        "gearing": (geared, _RPM_PER_SPEED[1]),
        "clutch engagement": (engagement is not None, _ENGAGEMENT[1] / 2.0),
        "mass": (machine is not None and load is not None, _MASS[1]),
    }
    return SheetFacts(
        torque=_EFFICIENCY * _MEAN_PRESSURE * (swept or _SWEPT[0]) * 1e-6 / (4.0 * pi),
        rpm_per_speed=60.0 * gear / circumference if gear and circumference else _RPM_PER_SPEED[0],
        engagement=engagement or _ENGAGEMENT[0],
        machine=machine or _MACHINE[0],
        load=None if load is None else load + (known_value(sheet.readings.get("ballast")) or 0.0),
        doubt=sum(share**2 for known, share in told.values() if not known) ** 0.5,
        missing=tuple(name for name, (known, _) in told.items() if not known),
        refused=no_fixed_ratio(sheet),
    )


def middles() -> list[float]:
    """Return the middle of every shared unknown's logarithm, and the air exponent as it is."""
    return [*(log(prior.middle) for prior in PRIORS), AIR_EXPONENT.middle]
