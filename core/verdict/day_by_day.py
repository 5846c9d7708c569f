"""The days of one build at one place: the mean of each as clocked, and brought to one air."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.session import SessionHead
from core.verdict.day_air import DayAir
from core.verdict.results import BuildSide
from core.verdict.shares import gather

__all__ = ["DayMean", "days_of"]

_MOST = 12  # days shown


@dataclass(frozen=True)
class DayMean:
    """One session of a build."""

    label: str
    day: str  # local date, ISO
    raw: float  # mean of its observations as clocked, in the test's unit
    net: float | None  # in the air and with the rider of the reference; None: no air was read
    n: int  # observations


def days_of(
    heads: Iterable[SessionHead], side: BuildSide, build_key: str, air: DayAir | None
) -> tuple[DayMean, ...]:
    """Return the sessions of one build at the place of a side, oldest first.

    Args:
        heads: every session of the log.
        side: gives machine, place, test, timing gear and kind of observation.
        build_key: key that same builds share; empty: not known, and nothing is returned.
        air: brings means to one air; None: only as clocked.
    """
    if not build_key:
        return ()
    own = [
        head
        for head in heads
        if build_key in head.builds and (head.machine, head.place) == (side.machine, side.place)
    ]
    found = (_mean(head, side, build_key, air) for head in sorted(own, key=lambda h: h.started))
    return tuple(day for day in found if day is not None)[-_MOST:]


def _mean(head: SessionHead, side: BuildSide, build_key: str, air: DayAir | None) -> DayMean | None:
    shares = gather((head,), head.machine, side.test, side.timing)
    rows = [
        row
        for row, share in enumerate(shares.rows)
        if share.build == build_key and share.kind == side.kind
    ]
    values = [
        float(value)
        for value, row in zip(shares.observed, shares.observed_row, strict=True)
        if int(row) in rows
    ]
    if not values:
        return None
    raw, share = sum(values) / len(values), shares.rows[rows[0]]
    net = None
    if air is not None and share.weather is not None:
        net = raw * air.share(share.weather, share.load)
    return DayMean(head.label, head.started.date().isoformat(), raw, net, len(values))
