"""Recordings in memory for tests of finding runs, without a file between."""

from __future__ import annotations

import numpy as np

from core.trace.noise import speed_noise
from core.trace.traces import FileClock, Trace
from tests.core.trace.synthetic import Floats

__all__ = ["trace_of"]


def trace_of(times: Floats, speed: Floats, heading: Floats | None = None) -> Trace:
    """Return a recording of one part."""
    count = len(times)
    nothing = np.full(count, np.nan)
    parts = ((0, count),)
    return Trace(
        kind="csv",
        name="made",
        sha256="",
        size=0,
        t=times,
        speed=speed,
        heading=nothing if heading is None else heading,
        lat=nothing,
        lon=nothing,
        line=np.arange(2, count + 2, dtype=np.int32),
        parts=parts,
        clock=FileClock(),
        rate=float(1 / np.median(np.diff(times))),
        noise=speed_noise(speed, parts, from_positions=False),
        from_positions=False,
    )
