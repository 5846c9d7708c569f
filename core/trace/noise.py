"""How far single speeds scatter, as the recording itself shows it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["SHARED_TWO_APART", "speed_noise"]

SHARED_TWO_APART: Final = -0.5
"""Correlation of speeds two rows apart, when they are differences of positions."""

_MOVING: Final = 2.0  # m/s; at rest many receivers hold the speed at zero
_ORDER: Final = 3  # differences: what is left of a smooth run is far below any noise
_LOW: Final = (0.35, 0.4538)  # a share of normal errors, and the size that so many stay below
_FAR: Final = (2.0, 0.8796)  # where errors are cut off, and what that leaves of their deviation
_ROUNDS: Final = 4
_TURN: Final = 4.5  # deviations of one speed; a step of noise alone is rarely larger
_FEWEST: Final = 8  # differences that an estimate needs
_USUAL: Final = 0.1  # m/s, taken where the rows are too few to tell; from memory


def speed_noise(
    speed: Floats, parts: Sequence[tuple[int, int]], *, from_positions: bool, step: float = 0.0
) -> float:
    """Return the standard deviation of one speed about the smooth run of the machine.

    Errors that drift over seconds do not show in it; receivers that smooth their speeds have them.

    Args:
        speed: m/s.
        parts: from and to of rows without a break.
        from_positions: speeds are central differences of positions, so their errors are shared.
        step: smallest step in which speeds are written, m/s.

    Returns:
        m/s, never below ``step/sqrt(12)``; 0.1 or that when there are too few moving rows to tell.

    Source: third differences of independent errors have variance ``20 sigma²``; root mean square
    of those within 2 deviations, so that gear changes and brakes are left out; closed form.

    >>> import numpy as np
    >>> draw = np.random.default_rng(3)
    >>> v = np.linspace(5, 20, 400) + draw.normal(0, 0.1, 400)
    >>> round(speed_noise(v, [(0, 400)], from_positions=False), 1)
    0.1
    """
    import numpy as np  # lazy: 0.1 s

    floor = step / math.sqrt(12)
    kernel = np.array([1.0, -3.0, 3.0, -1.0])
    gain = float(kernel @ kernel)
    if from_positions:
        gain += 2 * SHARED_TWO_APART * float(kernel[2:] @ kernel[:-2])
    found = [_moving_windows(speed[start:to]) for start, to in parts if to - start > _ORDER]
    windows = np.concatenate(found) if found else np.zeros((0, _ORDER + 1))
    sizes = np.abs(windows @ kernel) / math.sqrt(gain)
    if len(sizes) < _FEWEST:
        return max(floor, _USUAL)
    share, size = _LOW
    sigma = float(np.quantile(sizes, share)) / size
    smooth = sizes[~_turns(windows, _TURN * sigma)]
    sizes = smooth if len(smooth) >= _FEWEST else sizes
    limit, left = _FAR
    for _ in range(_ROUNDS):
        near = sizes[sizes <= limit * sigma]
        sigma = float(np.sqrt(np.mean(near**2))) / left if len(near) else sigma
    return max(floor, sigma)


def _moving_windows(speed: Floats) -> Floats:
    """Runs of four rows that all move, one below the other."""
    import numpy as np  # lazy: 0.1 s

    windows = np.lib.stride_tricks.sliding_window_view(speed, _ORDER + 1)
    together: Floats = windows[(windows > _MOVING).all(axis=1)]
    return together


def _turns(windows: Floats, least: float) -> NDArray[np.bool_]:
    """Whether speeding up turns to slowing down within a window, both by more than that a row."""
    import numpy as np  # lazy: 0.1 s

    steps = np.diff(windows, axis=1)
    turns: NDArray[np.bool_] = (steps.max(axis=1) > least) & (steps.min(axis=1) < -least)
    return turns
