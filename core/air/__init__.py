"""Formula pages of the air: vapour, density, standard atmosphere, power correction factors."""

from core.air.atmosphere import (
    StandardAir,
    density_altitude,
    density_altitude_nws,
    pressure_from_altimeter,
    pressure_from_sea_level,
    standard_air,
)
from core.air.density import density, density_from_dew_point
from core.air.power import (
    STANDARDS,
    Factor,
    Limit,
    corrected_power,
    din70020_factor,
    iso1585_factor,
    power_factor,
    sae_j1349_factor,
)
from core.air.vapour import (
    dew_point,
    dry_pressure,
    relative_humidity,
    saturation_pressure,
    vapour_pressure,
    virtual_temperature,
)

__all__ = [
    "STANDARDS",
    "Factor",
    "Limit",
    "StandardAir",
    "corrected_power",
    "density",
    "density_altitude",
    "density_altitude_nws",
    "density_from_dew_point",
    "dew_point",
    "din70020_factor",
    "dry_pressure",
    "iso1585_factor",
    "power_factor",
    "pressure_from_altimeter",
    "pressure_from_sea_level",
    "relative_humidity",
    "sae_j1349_factor",
    "saturation_pressure",
    "standard_air",
    "vapour_pressure",
    "virtual_temperature",
]
