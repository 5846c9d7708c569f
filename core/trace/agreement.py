"""Whether the speeds of a recording agree with its positions."""

from __future__ import annotations

from typing import Final

from core.errors import InputError
from core.trace.formats.findings import Finding
from core.trace.formats.speed_units import AGREE
from core.trace.positions import are_interleaved, metres, speed_ratio
from core.trace.traces import Trace

__all__ = ["position_findings"]

_POOR: Final = 0.3  # m/s of noise from which on a start from rest is found with doubt


def position_findings(trace: Trace) -> tuple[Finding, ...]:
    """Return what the positions of a recording say of its speeds.

    Args:
        trace: as read; its longest part is looked at.

    Raises:
        InputError: the positions jump to and fro between two places: two recordings are mixed.
    """
    import numpy as np  # lazy: 0.1 s

    start, to = max(trace.parts, key=lambda part: part[1] - part[0])
    lat, lon = trace.lat[start:to], trace.lon[start:to]
    about = _about_source(trace)
    if to - start < 3 or np.isnan(lat).any() or np.isnan(lon).any():
        return about
    north, east = metres(lat, lon)
    if are_interleaved(north, east):
        raise InputError(
            f"The positions of {trace.name} jump to and fro at every row:"
            " two recordings are mixed in it.",
            "Split it.",
        )
    if trace.from_positions:
        return about
    ratio = speed_ratio(trace.t[start:to], trace.speed[start:to], north, east)
    if ratio is None or abs(ratio - 1) <= AGREE:
        return ()
    sentence = f"The positions move {ratio:.2f} times as fast as the speeds say."
    return (Finding("disagree", sentence),)


def _about_source(trace: Trace) -> tuple[Finding, ...]:
    if not trace.from_positions:
        return ()
    poor = " Starts from rest are found with doubt." if trace.noise > _POOR else ""
    sentence = (
        "The file tells no speed: it is worked out from the positions,"
        f" each give or take {trace.noise * 3.6:.2g} km/h.{poor}"
    )
    return (Finding("from positions", sentence),)
