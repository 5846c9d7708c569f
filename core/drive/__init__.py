"""Formula pages of the drive: gearing, chain, stopping, road load, starts, coast-down, wind."""

from core.drive.gearing import (
    apparent_slip,
    circumference_from_diameter,
    overall_ratio,
    rolling_circumference,
    rpm,
    speed,
    tyre_growth,
)
from core.drive.stopping import stopping_distance

__all__ = [
    "apparent_slip",
    "circumference_from_diameter",
    "overall_ratio",
    "rolling_circumference",
    "rpm",
    "speed",
    "stopping_distance",
    "tyre_growth",
]
