"""Days brought to one air and one rider by the model's elasticities, for thousands of sessions."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log

from core.session.weather import Weather

__all__ = ["DayAir"]


@dataclass(frozen=True)
class DayAir:
    """How a test on a machine follows air and mass, about one reference; all logarithmic."""

    factor: float  # d ln y / d ln power factor
    density: float  # d ln y / d ln density, torque unchanged
    mass: float  # d ln y / d ln mass
    reference: Weather
    whole: float  # kg, machine with rider and ballast, at the reference
    load: float  # kg, rider and ballast, at the reference

    def share(self, weather: Weather, load: float | None) -> float:
        """Return what a result of that air and load is multiplied by to be of the reference.

        Args:
            weather: of the session.
            load: rider and ballast, kg; None: as at the reference.

        Source: first terms of the ratio of model results; a few per cent of air are a straight
        line to within 0.1 %.
        """
        heavier = 0.0 if load is None else log((self.whole - self.load + load) / self.whole)
        return exp(
            -self.factor * (weather.log_factor - self.reference.log_factor)
            - self.density * (weather.log_density - self.reference.log_density)
            - self.mass * heavier
        )
