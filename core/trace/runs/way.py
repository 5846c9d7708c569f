"""The way a machine covers after a time, from its recorded speeds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.trace.runs.motion import Part

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

__all__ = ["Way", "way_from"]


@dataclass(frozen=True, eq=False)
class Way:
    """Times, speeds and the way covered at each."""

    t: Floats  # s
    v: Floats  # m/s
    x: Floats  # m since the first time
    noise: float  # m/s, of one speed

    def reaching(self, distance: float) -> tuple[float, float, float] | None:
        """Return when a way is covered, the standard deviation of that, and the speed there.

        Args:
            distance: m, zero or more.

        Returns:
            s, s and m/s; None when it is never covered. Only the noise of the speeds counts:
            ``sd = noise sqrt(dt T)/v``.

        Source: integral of white noise; constant acceleration between rows; closed form.
        """
        import numpy as np  # lazy: 0.1 s

        if distance > float(self.x[-1]):
            return None
        row = max(1, int(np.searchsorted(self.x, distance)))
        step = float(self.t[row] - self.t[row - 1])
        before, after = float(self.v[row - 1]), float(self.v[row])
        slope = (after - before) / step
        left = distance - float(self.x[row - 1])
        root = math.sqrt(max(before**2 + 2 * slope * left, 0.0))
        speed = before + root
        time = 2 * left / speed if speed > 0 else 0.0
        at = float(self.t[row - 1]) + min(max(time, 0.0), step)
        usual = float(self.t[-1] - self.t[0]) / max(len(self.t) - 1, 1)
        spread = self.noise * math.sqrt(usual * max(at - float(self.t[0]), 0.0))
        return at, spread / max(root, 0.1), root


def way_from(part: Part, start: float, speed: float, stop: int) -> Way:
    """Return the way from a time on.

    Args:
        part: rows without a break.
        start: s.
        speed: m/s at that time.
        stop: row behind the last one that is used.

    Source: cubic Hermite integral ``h(v0 + v1)/2 + h²(a0 - a1)/12``; closed form.
    """
    import numpy as np  # lazy: 0.1 s

    first = int(np.searchsorted(part.rows.t, start + part.step / 2))  # a nearer row tells no slope
    t = np.concatenate(([start], part.rows.t[first:stop]))
    v = np.concatenate(([speed], part.rows.v[first:stop]))
    if len(t) < 2:
        return Way(t, v, np.zeros(len(t)), part.rows.noise)
    steps = np.diff(t)
    slopes = np.gradient(v, t, edge_order=2 if len(t) > 2 else 1)
    pieces = steps * (v[1:] + v[:-1]) / 2 + steps**2 * (slopes[:-1] - slopes[1:]) / 12
    x = np.concatenate(([0.0], np.cumsum(np.maximum(pieces, 0.0))))
    return Way(t, v, x, part.rows.noise)
