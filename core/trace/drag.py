"""Rolling and air drag from recorded coast-downs, both ways, with ranges, for the road load."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Final

import msgspec

from core.drive import GRAVITY, CoastFit, fit_coast
from core.errors import InputError
from core.guards import above_zero, not_negative
from core.ranged import Ranged
from core.stats import t_quantile
from core.trace.traces import Trace
from core.trace.wanted import FoundRun

__all__ = ["CoastDrag", "coast_drag"]

_SLOPE: Final = 0.005  # rise over run that a place may well have unnoticed; own rule
_WITHIN: Final = 0.975  # quantile of a two-sided range of 95 %
_FEWEST_ROWS: Final = 6


class CoastDrag(msgspec.Struct, frozen=True):
    """What holds a machine back, from its coast-downs."""

    f0: Ranged  # N: rolling
    f2: Ranged  # N s²/m²: air
    rolling: Ranged  # coefficient of rolling resistance
    drag_area: Ranged | None  # drag coefficient times area, m²; None: air density not known
    each_way: Mapping[str, int]  # coast-downs by direction
    half_difference: float  # N between the two ways at the middle speed; 0 for one way
    middle_speed: float  # m/s
    notes: tuple[str, ...] = ()

    @property
    def two_ways(self) -> bool:
        """Whether both directions were coasted, so that slope and most of the wind fall out."""
        return len(self.each_way) == 2


def coast_drag(
    trace: Trace,
    runs: Sequence[FoundRun],
    mass: float,
    *,
    turning: float = 0.0,
    air_density: float | None = None,
) -> CoastDrag:
    """Return rolling and air drag from coast-downs of one recording.

    Each coast-down is fitted by itself; the mean of each way is taken, then the mean of both ways,
    so that slope and the first order of wind fall out. What is left of the wind, ``f2 w²``, is
    bounded by the difference of the two ways and lowers the lower end of f0.

    Args:
        trace: the recording.
        runs: coast-downs found in it.
        mass: of machine and rider, kg, above zero.
        turning: what turning wheels add to it, kg, zero or more.
        air_density: kg/m³; None: no drag area is given.

    Returns:
        Values with 95 % ranges, from noise within each coast-down and scatter between them.

    Raises:
        InputError: no coast-down can be fitted, or a mass is refused.

    Source: coast-down in two directions, SAE J1263 (from memory); least squares of
    `core.drive.fit_coast`; Student's t.
    """
    above_zero("mass", mass, "kg")
    whole = mass + not_negative("mass of turning parts", turning, "kg")
    fits: dict[str, list[CoastFit]] = defaultdict(list)
    refused: list[str] = []
    for run in runs:
        try:
            fits[_way(run, runs)].append(_fitted(trace, run, whole))
        except InputError as error:
            refused.append(f"The coast-down at {run.start:.0f} s cannot be fitted: {error.message}")
    if not fits:
        raise InputError("No coast-down can be fitted.", refused[0] if refused else "")
    middle = math.sqrt(
        sum((trace.speed[r.from_index] + trace.speed[r.to_index]) ** 2 / 4 for r in runs)
        / len(runs)
    )
    return _together(dict(fits), whole, mass, float(middle), air_density, refused)


def _way(run: FoundRun, runs: Sequence[FoundRun]) -> str:
    """Name of the way a run went: the place's, or ``one way`` and ``other way`` by heading."""
    if run.direction:
        return run.direction
    first = next((r.heading for r in runs if r.heading is not None), None)
    if run.heading is None or first is None:
        return "not known"
    apart = abs((run.heading - first + 180) % 360 - 180)
    return "one way" if apart <= 90 else "other way"


def _fitted(trace: Trace, run: FoundRun, mass: float) -> CoastFit:
    rows = slice(run.from_index, run.to_index + 1)
    t, v = trace.t[rows], trace.speed[rows]
    moving = v > 0
    if int(moving.sum()) < _FEWEST_ROWS:
        raise InputError(f"it has {int(moving.sum())} rows.")
    return fit_coast(mass, t[moving].tolist(), v[moving].tolist())


def _together(
    fits: Mapping[str, Sequence[CoastFit]],
    whole: float,
    mass: float,
    middle: float,
    air_density: float | None,
    refused: Sequence[str],
) -> CoastDrag:
    """Join the fits of both ways."""
    ways = {name: found for name, found in fits.items() if name != "not known"} or dict(fits)
    f0, f0_half = _mean([[fit.f0 for fit in w] for w in ways.values()],
                        [[fit.f0_sd for fit in w] for w in ways.values()])  # fmt: skip
    f2, f2_half = _mean([[fit.f2 for fit in w] for w in ways.values()],
                        [[fit.f2_sd for fit in w] for w in ways.values()])  # fmt: skip
    forces = [sum(fit.f0 + fit.f2 * middle**2 for fit in w) / len(w) for w in ways.values()]
    half = abs(forces[0] - forces[1]) / 2 if len(forces) == 2 else 0.0
    notes = list(refused)
    low = f0 - f0_half
    high = f0 + f0_half
    if len(ways) == 2:
        low -= half**2 / (4 * f2 * middle**2)  # all of it wind: w = half/(2 f2 v), bias f2 w²
        notes.append(f"The two ways differ by {2 * half:.1f} N: slope and wind together.")
    else:
        slope = whole * GRAVITY * _SLOPE
        low, high = low - slope, high + slope
        notes.append("One way only: slope and wind are in it; half a per cent of slope is allowed.")
    spread0 = Ranged(f0, max(low, 0.0), high)
    spread2 = Ranged(f2, max(f2 - f2_half, 0.0), f2 + f2_half)
    weight = mass * GRAVITY
    return CoastDrag(
        f0=spread0,
        f2=spread2,
        rolling=_scaled(spread0, 1 / weight),
        drag_area=None if air_density is None else _scaled(spread2, 2 / air_density),
        each_way={name: len(found) for name, found in ways.items()},
        half_difference=half,
        middle_speed=middle,
        notes=tuple(notes),
    )


def _mean(values: Sequence[Sequence[float]], sds: Sequence[Sequence[float]]) -> tuple[float, float]:
    """Mean of the means of each way, and half of its 95 % range.

    The spread of one fit is the larger of what its noise says and what the fits of one way show.
    """
    means = [sum(way) / len(way) for way in values]
    freedom = sum(len(way) - 1 for way in values)
    scatter = sum((x - m) ** 2 for way, m in zip(values, means, strict=True) for x in way)
    shown = scatter / freedom if freedom else 0.0
    said = sum(sd**2 for way in sds for sd in way) / sum(map(len, sds))
    per_fit = max(shown, said)
    variance = sum(per_fit / len(way) for way in values) / len(values) ** 2
    quantile = t_quantile(_WITHIN, freedom) if freedom and shown > said else 1.96
    return sum(means) / len(means), quantile * math.sqrt(variance)


def _scaled(given: Ranged, factor: float) -> Ranged:
    return Ranged(given.value * factor, given.low * factor, given.high * factor)
