"""Many runs of the road-load model at once: the same law as one run, as columns of numbers."""

from __future__ import annotations

from dataclasses import dataclass, fields
from math import pi
from typing import TYPE_CHECKING

from core.drive.roadload import GRAVITY

if TYPE_CHECKING:
    import numpy as np

__all__ = ["Many", "coast_times", "distance_times", "speed_times", "top_speeds", "torque_shape"]

_RISE = 0.9  # width of the torque curve below its peak, in the logarithm of engine speed
_FASTEST = 60.0  # m/s, end of the search for a top speed
_COARSE = 12  # steps of the first guess of a speed after a distance
# half-way abscissae and weights of the 8-point Gauss-Legendre rule on -1 to 1
_GAUSS = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)


@dataclass(frozen=True)
class Many:
    """Machines, air and strips as columns of equal length, one run a row.

    The torque curve is ``T exp(-(ln(n/n_p)/b)²/2)``, b 0.9 below the peak and ``fall`` above it.
    """

    torque: np.ndarray  # N·m at its peak, losses of the drive and the air taken off
    peak_rpm: np.ndarray  # 1/min
    fall: np.ndarray  # width of the curve above its peak, in ln of engine speed
    rpm_per_speed: np.ndarray  # 1/min for each m/s: 60 G/C
    engagement_rpm: np.ndarray  # 1/min
    mass: np.ndarray  # kg, with rider
    wheels: np.ndarray  # kg that the turning wheels count for
    engine_inertia: np.ndarray  # kg·m²
    rolling: np.ndarray  # coefficient
    drag_area: np.ndarray  # m²
    density: np.ndarray  # kg/m³
    headwind: np.ndarray  # m/s
    grade: np.ndarray  # rise over run

    def column(self) -> Many:
        """Return the same with each row a column of one, to go with nodes side by side."""
        return Many(**{field.name: getattr(self, field.name)[:, None] for field in fields(self)})

    @property
    def lock_speed(self) -> np.ndarray:
        """Road speed at which the clutch locks, m/s."""
        lock: np.ndarray = self.engagement_rpm / self.rpm_per_speed
        return lock


def torque_shape(rpm: np.ndarray, peak_rpm: np.ndarray, fall: np.ndarray) -> np.ndarray:
    """Return the torque over its peak at an engine speed.

    Args:
        rpm, peak_rpm: 1/min, above zero.
        fall: width above the peak, in ln of engine speed.

    Source: own curve, a log-normal hump; common practice knows no formula.
    """
    import numpy as np  # lazy: 0.1 s

    away = np.log(rpm / peak_rpm)
    width = np.where(away < 0.0, _RISE, fall)
    shape: np.ndarray = np.exp(-0.5 * (away / width) ** 2)
    return shape


def _resistance(runs: Many, speed: np.ndarray) -> np.ndarray:
    """Rolling, slope and air drag, N; angles small."""
    import numpy as np  # lazy: 0.1 s

    through = speed + runs.headwind
    held: np.ndarray = runs.mass * GRAVITY * (
        runs.rolling + runs.grade
    ) + 0.5 * runs.density * runs.drag_area * through * np.abs(through)
    return held


def _surplus(runs: Many, speed: np.ndarray) -> np.ndarray:
    """Force left to speed up with, N."""
    import numpy as np  # lazy: 0.1 s

    rpm = np.maximum(runs.engagement_rpm, runs.rpm_per_speed * speed)
    torque = runs.torque * torque_shape(rpm, runs.peak_rpm, runs.fall)
    left: np.ndarray = torque * runs.rpm_per_speed * pi / 30.0 - _resistance(runs, speed)
    return left


def _heavy(runs: Many, locked: bool) -> np.ndarray:
    """Mass to be sped up, kg; with the engine once the clutch is locked."""
    heavy: np.ndarray = runs.mass + runs.wheels
    return heavy + runs.engine_inertia * (runs.rpm_per_speed * pi / 30.0) ** 2 if locked else heavy


def _nodes(low: np.ndarray, high: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Speeds and weights of the rule between two ends of each row."""
    import numpy as np  # lazy: 0.1 s

    at = np.array([s * x for x, _ in _GAUSS for s in (-1.0, 1.0)])
    weight = np.array([w for _, w in _GAUSS for _ in (0, 1)])
    middle, half = (low + high)[:, None] / 2.0, (high - low)[:, None] / 2.0
    return middle + half * at, half * weight


def _pieces(runs: Many, start: np.ndarray, end: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Time and way from one speed to another; not a number where it is not reached."""
    import numpy as np  # lazy: 0.1 s

    wide, lock = runs.column(), np.clip(runs.lock_speed, start, end)
    peak = np.clip(runs.peak_rpm / runs.rpm_per_speed, lock, end)
    time, way = np.zeros_like(start), np.zeros_like(start)
    for low, high, locked in ((start, lock, False), (lock, peak, True), (peak, end, True)):
        speed, weight = _nodes(low, high)
        left = _surplus(wide, speed)
        with np.errstate(divide="ignore", invalid="ignore"):
            slow = np.where(left > 0.0, _heavy(wide, locked) / left, np.nan)
        slow = np.where(weight > 0.0, slow, 0.0)
        time = time + (slow * weight).sum(axis=1)
        way = way + (slow * speed * weight).sum(axis=1)
    return time, way


def speed_times(runs: Many, start: float, end: float) -> np.ndarray:
    """Return the times from one speed to another at full throttle, s.

    Args:
        runs: the rows.
        start: m/s, zero or more; zero is a standing start.
        end: m/s, above the start.

    Returns:
        One for each row; not a number where the end is not reached.

    Source: as :func:`core.drive.launch.accelerate`, Gauss-Legendre.
    """
    import numpy as np  # lazy: 0.1 s

    ones = np.ones_like(runs.mass)
    time = _pieces(runs, start * ones, end * ones)[0]
    return np.where(_surplus(runs, end * ones) > 0.0, time, np.nan)


def distance_times(runs: Many, distance: float) -> np.ndarray:
    """Return the times over a distance from a standing start, s.

    Args:
        runs: the rows.
        distance: m, above zero.

    Returns:
        One for each row; not a number where the machine does not move off.

    Source: as :func:`core.drive.launch.over_distance`; the speed at the end by Newton's method.
    """
    import numpy as np  # lazy: 0.1 s

    end = _speed_after(runs, distance)
    still = np.zeros_like(end)
    for _ in range(3):
        way = _pieces(runs, still, end)[1]
        left = _surplus(runs, end)
        heavy = np.where(end >= runs.lock_speed, _heavy(runs, True), _heavy(runs, False))
        with np.errstate(divide="ignore", invalid="ignore"):
            step = (distance - way) * left / (heavy * end)
        end = end + np.clip(np.nan_to_num(step), -0.2 * end, 0.1 * end)
    return _pieces(runs, still, end)[0]


def _speed_after(runs: Many, distance: float) -> np.ndarray:
    """First guess: steps of equal way in the square of the speed, middle of the step."""
    import numpy as np  # lazy: 0.1 s

    way, square = distance / _COARSE, np.zeros_like(runs.mass)
    for _ in range(_COARSE):
        half = np.sqrt(np.maximum(0.0, square + way * _pull(runs, np.sqrt(square))))
        square = np.maximum(1e-6, square + 2.0 * way * _pull(runs, half))
    found: np.ndarray = np.sqrt(square)
    return found


def _pull(runs: Many, speed: np.ndarray) -> np.ndarray:
    import numpy as np  # lazy: 0.1 s

    locked = speed >= runs.lock_speed
    heavy = np.where(locked, _heavy(runs, True), _heavy(runs, False))
    pull: np.ndarray = _surplus(runs, speed) / heavy
    return pull


def top_speeds(runs: Many) -> np.ndarray:
    """Return the top speeds at full throttle, m/s; not a number where it does not move off.

    Source: as :func:`core.drive.launch.full_speed`, the highest speed with force left; bisection.
    """
    import numpy as np  # lazy: 0.1 s

    grid = np.linspace(0.5, _FASTEST, 120)[None, :] * np.ones_like(runs.mass)[:, None]
    ahead = _surplus(runs.column(), grid) > 0.0
    last = ahead.shape[1] - 1 - np.argmax(ahead[:, ::-1], axis=1)
    low = grid[0, last]
    high = low + (grid[0, 1] - grid[0, 0])
    for _ in range(40):
        middle = (low + high) / 2.0
        up = _surplus(runs, middle) > 0.0
        low, high = np.where(up, middle, low), np.where(up, high, middle)
    return np.where(ahead.any(axis=1), low, np.nan)


def coast_times(runs: Many, start: float, end: float) -> np.ndarray:
    """Return the times to coast from one speed down to another, clutch free, s.

    Args:
        runs: the rows; nothing of the engine counts.
        start: m/s.
        end: m/s, below the start.

    Source: as :func:`core.drive.coast.coast_time`, wind and slope counted in; Gauss-Legendre.
    """
    import numpy as np  # lazy: 0.1 s

    ones = np.ones_like(runs.mass)
    speed, weight = _nodes(end * ones, start * ones)
    held = _resistance(runs.column(), speed)
    with np.errstate(divide="ignore", invalid="ignore"):
        slow = np.where(held > 0.0, _heavy(runs, False)[:, None] / held, np.nan)
    times: np.ndarray = (slow * weight).sum(axis=1)
    return times
