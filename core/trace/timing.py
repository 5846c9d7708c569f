"""When a speed trace passes a threshold and how sure that is; rollout; the hand on a watch."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import msgspec

from core.errors import InputError, UnknownInputError
from core.guards import above_zero, finite, not_negative, shown

__all__ = [
    "Crossing",
    "HandWatch",
    "Rollout",
    "crossing",
    "fitted_crossing",
    "hand_watch",
    "hand_words",
    "rollout",
]


class Crossing(msgspec.Struct, frozen=True):
    """When a threshold was passed upward."""

    time: float  # s
    sd: float  # s, from the noise of the speed alone
    slope: float  # m/s² there


class Rollout(msgspec.Struct, frozen=True):
    """The first bit of way before a clock starts, at constant acceleration."""

    time: float  # s
    speed: float  # m/s at its end


class HandWatch(msgspec.Struct, frozen=True):
    """What a hand on a stopwatch does to an interval."""

    interval_sd: float  # s, one interval
    mean_sd: float  # s, mean of the intervals taken
    bias: float  # s, start and stop alike by one observer


def _check(times: Sequence[float], speeds: Sequence[float], least: int) -> None:
    if len(times) != len(speeds) or len(times) < least:
        raise InputError(
            f"The trace has {len(times)} times and {len(speeds)} speeds:"
            f" it needs as many of both, {least} or more."
        )
    for value in (*times, *speeds):
        finite("a value of the trace", value)
    if any(after <= before for before, after in pairwise(times)):
        raise InputError("The times of the trace must increase.")


def _first_step(speeds: Sequence[float], threshold: float) -> int:
    if speeds[0] >= threshold:
        raise InputError(
            f"The trace starts at {shown(speeds[0], 'km/h')}, not below the threshold"
            f" {shown(threshold, 'km/h')}."
        )
    for k, (before, after) in enumerate(pairwise(speeds)):
        if before < threshold <= after:
            return k
    raise UnknownInputError(
        f"Unknown: the trace never reaches {shown(threshold, 'km/h')}.", ("crossing",)
    )


def crossing(
    times: Sequence[float], speeds: Sequence[float], threshold: float, noise: float = 0.0
) -> Crossing:
    """Return when a speed trace first passes a threshold, between two samples.

    On a noisy trace the first crossing comes early, the more so the faster the sampling;
    :func:`fitted_crossing` does not.

    Args:
        times: s, increasing, two or more.
        speeds: m/s, the first below the threshold.
        threshold: m/s.
        noise: standard deviation of one speed, m/s, zero or more.

    Returns:
        ``t = t_k + f dt``, ``f = (v* - v_k)/(v_k+1 - v_k)``, with
        ``sd = (noise/a) sqrt((1 - f)² + f²)``, a the slope between the two samples.

    Raises:
        InputError: the trace is refused or starts above the threshold.
        UnknownInputError: the threshold is never reached.

    Source: linear interpolation, errors to first order; closed form.

    >>> found = crossing([0, 0.1, 0.2, 0.3], [12.4, 12.71, 13.05, 13.36], 13.0, 0.05)
    >>> round(found.time, 4), round(found.sd, 4)
    (0.1853, 0.0127)
    """
    _check(times, speeds, 2)
    sigma = not_negative("speed noise", noise, "m/s")
    k = _first_step(speeds, finite("threshold", threshold))
    step, rise = times[k + 1] - times[k], speeds[k + 1] - speeds[k]
    share = (threshold - speeds[k]) / rise
    slope = rise / step
    return Crossing(times[k] + share * step, sigma / slope * math.hypot(1 - share, share), slope)


def fitted_crossing(
    times: Sequence[float],
    speeds: Sequence[float],
    threshold: float,
    noise: float = 0.0,
    samples: int = 6,
) -> Crossing:
    """Return when a noisy trace passes a threshold, by a straight line through samples about it.

    Args:
        times: s, increasing, as many as ``samples`` or more.
        speeds: m/s, the first below the threshold.
        threshold: m/s.
        noise: standard deviation of one speed, m/s.
        samples: how many the line goes through, three or more.

    Returns:
        Where the line meets the threshold; sd ``(noise/a) sqrt(1/n + (t - tm)²/Stt)``, near
        ``noise/(a sqrt n)``.

    Raises:
        InputError: the trace is refused, starts above the threshold, or does not rise there.
        UnknownInputError: the threshold is never reached.

    Source: least-squares line, inverse prediction to first order; closed form.
    """
    if samples < 3:
        raise InputError("A line through a trace needs three samples or more.")
    _check(times, speeds, samples)
    sigma = not_negative("speed noise", noise, "m/s")
    below = sum(v < threshold for v in speeds)
    _first_step(speeds, finite("threshold", threshold))
    first = min(max(0, below - samples // 2), len(times) - samples)
    t, v = times[first : first + samples], speeds[first : first + samples]
    middle, mean = math.fsum(t) / samples, math.fsum(v) / samples
    spread = math.fsum((x - middle) ** 2 for x in t)
    slope = math.fsum((x - middle) * (y - mean) for x, y in zip(t, v, strict=True)) / spread
    if slope <= 0:
        raise InputError("The trace does not rise where it passes the threshold.")
    at = middle + (threshold - mean) / slope
    sd = sigma / slope * math.sqrt(1 / samples + (at - middle) ** 2 / spread)
    return Crossing(at, sd, slope)


def rollout(distance: float, acceleration: float) -> Rollout:
    """Return time and speed over the first bit of way at constant acceleration.

    Results with and without rollout are different quantities and are never compared.

    Args:
        distance: m, zero or more; 0.3048 is one foot.
        acceleration: m/s², above zero.

    Returns:
        ``t = sqrt(2x/a)``, ``v = sqrt(2 a x)``.

    Raises:
        InputError: an input is refused.

    Source: constant acceleration; closed form.

    >>> round(rollout(0.3048, 3.0).time, 3)
    0.451
    """
    x = not_negative("rollout", distance, "m")
    a = above_zero("acceleration", acceleration, "m/s²")
    return Rollout(math.sqrt(2 * x / a), math.sqrt(2 * a * x))


def hand_watch(count: int = 1, event_sd: float = 0.07) -> HandWatch:
    """Return how far off a hand-timed interval is, when start and stop are both seen coming.

    Nothing cancels when the start is by reaction and the stop by anticipation, or when two persons
    share the two: such times carry an offset of their own.

    Args:
        count: intervals averaged, 1 or more.
        event_sd: standard deviation of one press, s, zero or more.

    Returns:
        ``sd = sqrt(2) s``, of the mean ``sqrt(2/n) s``, bias 0: the mean delay of 0.11 s falls out.

    Raises:
        InputError: the count is below one, or the deviation below zero.

    Source: Faux and Godolphin, Am. J. Phys. 87 (2019) 110: one press N(0.11 s, 0.07 s).

    >>> round(hand_watch().interval_sd, 3), round(hand_watch(4).mean_sd, 3)
    (0.099, 0.049)
    """
    if count < 1:
        raise InputError("A mean needs one interval or more.")
    sd = math.sqrt(2) * not_negative("deviation of one press", event_sd, "s")
    return HandWatch(sd, sd / math.sqrt(count), 0.0)


def hand_words() -> str:
    """Return what a person should know of a time taken by hand, with its sources.

    Source: Faux and Godolphin, Am. J. Phys. 87 (2019) 110, 4304 timings; hand less automatic:
    -0.22 s Mann et al., J. Strength Cond. Res. 29 (2015) 1509; -0.31 s Mayhew et al., the same 24
    (2010) 447.

    >>> hand_words().split(":")[0]
    'By hand'
    """
    sd = hand_watch().interval_sd
    return (
        f"By hand: off by {sd:.2f} s (sd), {1.96 * sd:.1f} s in 19 of 20, where start and stop are"
        " both seen coming (Faux and Godolphin, Am. J. Phys. 87, 2019). Started by reaction and"
        " stopped ahead of it, it reads 0.2 to 0.3 s short (Mann 2015, Mayhew 2010)."
    )
