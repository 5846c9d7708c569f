"""What air, wind, slope and rider make of a difference between two sides, with ranges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import expm1, hypot, sqrt
from typing import TYPE_CHECKING

from core.attempts import Test
from core.verdict.allowing.conditions import Conditions, Known
from core.verdict.allowing.fit import RoadFit
from core.verdict.allowing.model import State, results, state_of
from core.verdict.allowing.priors import SheetFacts

if TYPE_CHECKING:
    import numpy as np

__all__ = ["PARTS", "Explained", "Part", "explained_between"]

PARTS = ("air", "wind", "slope", "mass")
"""In the order they are taken over from the other side."""

_REACH = sqrt(3.0)  # standard deviations of the outer nodes of the 3-point Gauss-Hermite rule
_MODEL_DOUBT = 0.10  # of each part: the model is a sketch; common practice, no source
_NORMAL = 1.96  # standard deviations either side for 95 %
_AIR = ("temperature", "pressure", "humidity")


@dataclass(frozen=True)
class Part:
    """What one of the conditions explains of B less A."""

    name: str  # one of ``PARTS``
    value: float  # in the test's unit
    low: float  # 95 %
    high: float


@dataclass(frozen=True)
class Explained:
    """What all of them explain together."""

    parts: tuple[Part, ...]
    value: float  # in the test's unit
    sd: float  # standard deviation of it

    @property
    def low(self) -> float:
        """Lower end of the range of all of them."""
        return self.value - _NORMAL * self.sd

    @property
    def high(self) -> float:
        """Upper end of the range of all of them."""
        return self.value + _NORMAL * self.sd

    def part(self, name: str) -> Part:
        """Return one of the parts."""
        return next(part for part in self.parts if part.name == name)


@dataclass(frozen=True)
class _Point:
    """One set of what is not known exactly: the machine's numbers and both sides' conditions."""

    unknowns: np.ndarray
    a: Conditions
    b: Conditions


def explained_between(
    test: Test,
    facts: SheetFacts,
    fit: RoadFit,
    a: Conditions,
    b: Conditions,
    mean: float,
    headings: Sequence[float],
    *,
    same_place: bool,
) -> Explained | None:
    """Return what the conditions of B, held against those of A, explain of B's result.

    Args:
        test: one that is modelled.
        facts: sheet of B.
        fit: the machine's own numbers.
        a, b: conditions of both sides.
        mean: what B clocked, in the test's unit.
        headings: directions of one observation of B: (1, -1) for a pair.
        same_place: whether both ran on the same strip, whose slope then is one number.

    ``mean (1 - model(conditions of A)/model(conditions of B))``, one condition after the other
    taken over, and shared out by their logarithms, so that the parts add up. Doubts of the
    machine's numbers and of each reading are carried through by three points each (Gauss-Hermite),
    which sees that wind leaves a pair slower in either direction; 10 % of each part is added for
    the model itself.

    Returns:
        None where the model does not get through the test.

    Source: ratio method of :func:`core.drive.allowed_time`; three-point rule: Abramowitz and
    Stegun 25.4.46 (from memory).
    """
    import numpy as np  # lazy: 0.1 s

    points = list(_points(fit, a, b, same_place))
    steps = _explained(test, facts, points, headings)  # points x parts, as logarithms of the result
    base = steps[0]
    if not np.isfinite(base).all():
        return None
    shift, variance = np.zeros(len(PARTS) + 1), np.zeros(len(PARTS) + 1)
    with_sum = np.column_stack([steps, steps.sum(axis=1)])
    for up, down in zip(with_sum[1::2], with_sum[2::2], strict=True):
        rise, fall = _deviations(up - with_sum[0], down - with_sum[0])
        moved = (rise + fall) / 6.0
        shift += moved
        variance += np.maximum(0.0, (rise**2 + fall**2) / 6.0 - moved**2)
    logs = with_sum[0] + shift
    size = mean * _share_of_log(float(logs[-1]))
    values, sds = size * logs, abs(size) * np.sqrt(variance)
    doubts = _MODEL_DOUBT * np.abs(values[:-1])
    parts = tuple(
        _part(name, float(value), hypot(float(sd), float(doubt)))
        for name, value, sd, doubt in zip(PARTS, values, sds, doubts, strict=False)
    )
    whole = hypot(float(sds[-1]), *doubts.tolist())
    return Explained(parts, float(values[-1]), whole)


def _share_of_log(log: float) -> float:
    """``(1 - exp(-x))/x``: what makes of a logarithm the share that a result shrinks by."""
    return -expm1(-log) / log if abs(log) > 1e-9 else 1.0


def _part(name: str, value: float, sd: float) -> Part:
    return Part(name, value, value - _NORMAL * sd, value + _NORMAL * sd)


def _deviations(rise: np.ndarray, fall: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Where the model does not get through at one end, the other end is mirrored."""
    import numpy as np  # lazy: 0.1 s

    lost_up, lost_down = ~np.isfinite(rise), ~np.isfinite(fall)
    up = np.where(lost_up, np.where(lost_down, 0.0, -fall), rise)
    down = np.where(lost_down, np.where(lost_up, 0.0, -rise), fall)
    return up, down


def _points(fit: RoadFit, a: Conditions, b: Conditions, same_place: bool) -> Iterator[_Point]:
    """The middle, then each doubt up and down by itself."""
    import numpy as np  # lazy: 0.1 s

    yield _Point(fit.unknowns, a, b)
    for column in fit.root.T:
        for sign in (_REACH, -_REACH):
            yield _Point(fit.unknowns + sign * np.asarray(column), a, b)
    for name in (*_AIR, "wind", "load"):
        for sign in (_REACH, -_REACH):
            yield _Point(fit.unknowns, _moved(a, name, sign), b)
        for sign in (_REACH, -_REACH):
            yield _Point(fit.unknowns, a, _moved(b, name, sign))
    for sign in (_REACH, -_REACH):
        yield _Point(fit.unknowns, _moved(a, "slope", sign), _slope_too(a, b, sign, same_place))
    if not same_place:
        for sign in (_REACH, -_REACH):
            yield _Point(fit.unknowns, a, _moved(b, "slope", sign))


def _slope_too(a: Conditions, b: Conditions, sign: float, same_place: bool) -> Conditions:
    return replace(b, slope=_moved(a, "slope", sign).slope) if same_place else b


def _moved(conditions: Conditions, name: str, sign: float) -> Conditions:
    known: Known = getattr(conditions, name)
    return conditions.moved(name, replace(known, value=known.value + sign * known.sd))


def _ladder(point: _Point) -> list[State]:
    """B as it was, then with air, wind, slope and mass of A, one after the other."""
    a, b = state_of(point.a), state_of(point.b)
    with_air = replace(b, log_factor=a.log_factor, density=a.density)
    with_wind = replace(with_air, wind=a.wind)
    with_slope = replace(with_wind, grade=a.grade)
    return [b, with_air, with_wind, with_slope, replace(with_slope, load=a.load)]


def _explained(
    test: Test, facts: SheetFacts, points: Sequence[_Point], headings: Sequence[float]
) -> np.ndarray:
    """Logarithm of the result that each part explains, a row for each point."""
    import numpy as np  # lazy: 0.1 s

    ladders = [_ladder(point) for point in points]
    rungs, ways = len(PARTS) + 1, len(headings)
    rows = [
        (point, state) for point, ladder in zip(points, ladders, strict=True) for state in ladder
    ]
    plain = results(
        test,
        [facts] * (len(rows) * ways),
        np.repeat(np.array([point.unknowns for point, _ in rows]), ways, axis=0),
        [state for _, state in rows for _ in headings],
        list(headings) * len(rows),
    )
    found = plain.reshape(len(points), rungs, ways).mean(axis=2)
    logs: np.ndarray = np.log(found[:, :-1] / found[:, 1:])
    return logs
