"""The timing gear an attempt can be taken with, and how finely each one reads."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from core.attempts.asking import quoted
from core.errors import NotFoundError

__all__ = ["TIMINGS", "Timing", "find_timing", "resolution_of"]


class Timing(msgspec.Struct, frozen=True):
    """One kind of timing gear."""

    name: str  # short name in files and commands
    title: str  # words on screen
    resolution: float  # s, the smallest step of a time it gives
    speed_resolution: float  # km/h, the smallest step of a speed it gives
    note: str  # what its error is made of
    aliases: tuple[str, ...] = ()  # other ways to type it


TIMINGS: tuple[Timing, ...] = (
    Timing(
        "hand",
        "hand watch",
        0.01,
        1.0,
        "The display shows 0.01 s; the hand adds its reaction, which the usual spread contains.",
        ("watch", "stopwatch", "handwatch"),
    ),
    Timing(
        "logger-1hz",
        "satellite logger, 1 per second",
        0.01,
        0.1,
        "Times are interpolated between readings a second apart.",
        ("1hz", "logger1hz", "gnss1hz"),
    ),
    Timing(
        "logger-10hz",
        "satellite logger, 10 per second",
        0.01,
        0.1,
        "Times are interpolated between readings a tenth of a second apart.",
        ("10hz", "logger10hz", "gnss10hz"),
    ),
    Timing(
        "gates",
        "light gates",
        0.01,
        0.1,
        "The clock is sharp; what is left is the start offset and the line through the beam.",
        ("gate", "lightgates", "beams"),
    ),
    Timing(
        "trace",
        "time found in a recording",
        0.01,
        0.1,
        "Found by fitting the recorded speed; the rate and noise of the recording set its error.",
        ("recording", "track"),
    ),
)

_FEWEST_FOR_STEP = 3  # three times on round tenths by luck: one in a thousand


def _plain(name: str) -> str:
    return "".join(c for c in name.casefold() if c not in " -_")


_BY_NAME = {_plain(word): t for t in TIMINGS for word in (t.name, *t.aliases)}


def find_timing(name: str) -> Timing:
    """Return the timing gear of that short name; case, spaces and hyphens are forgiven.

    Raises:
        NotFoundError: no such timing gear.

    >>> find_timing("Logger 10 Hz").name, find_timing("stopwatch").name
    ('logger-10hz', 'hand')
    """
    found = _BY_NAME.get(_plain(name))
    if found is None:
        names = ", ".join(t.name for t in TIMINGS)
        raise NotFoundError(f"{quoted(name)} is not timing gear I know.", f"One of: {names}.")
    return found


def resolution_of(timing: str, unit: str = "s", values: Sequence[float] = ()) -> float:
    """Return the smallest step of a timing gear, or the coarser one that the values show.

    Args:
        timing: short name; empty (not told) counts as a hand watch.
        unit: ``s`` or ``km/h``.
        values: attempts in that unit; three or more that all lie on round tenths (of a second) or
            on whole numbers (km/h) were read from a coarser display.

    Returns:
        The step in that unit, above zero. A spread is never taken as less than this / sqrt(12).

    Raises:
        NotFoundError: no such timing gear.

    >>> resolution_of("hand"), resolution_of("hand", "s", [7.3, 7.3, 7.4])
    (0.01, 0.1)
    """
    gear = find_timing(timing or "hand")
    step, coarser = (
        (gear.speed_resolution, (1.0,)) if unit == "km/h" else (gear.resolution, (1.0, 0.1))
    )
    if len(values) < _FEWEST_FOR_STEP:
        return step
    seen = (c for c in coarser if all(abs(v / c - round(v / c)) < 1e-6 for v in values))
    return max(step, next(seen, step))
