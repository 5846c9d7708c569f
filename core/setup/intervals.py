"""How long a thing may go before it is looked at again; each can be changed by the user."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import msgspec

from core.clock import AwareTime
from core.errors import InputError, NotFoundError
from core.log import Document, Kind

__all__ = [
    "INTERVALS",
    "INTERVAL_KIND",
    "Interval",
    "IntervalHead",
    "IntervalRow",
    "intervals_from",
    "put_interval",
]


@dataclass(frozen=True)
class IntervalRow:
    """One thing that wears or comes due."""

    id: str
    words: str
    hours: float | None = None  # engine hours; None: not counted by
    attempts: int | None = None  # attempts; None: not counted by
    days: int | None = None  # days; None: not counted by
    uses: int | None = None  # times fitted; None: not counted by
    slots: tuple[str, ...] = ()  # a change of any of them starts it anew
    rules: tuple[str, ...] = ()  # so does a cleared check of any of these
    meter: str = ""  # slot that tells the hours since: its reading is taken as it stands
    own: bool = False  # put so by the user


INTERVALS: tuple[IntervalRow, ...] = (
    IntervalRow("oil", "engine oil", hours=10, days=365, slots=("oil_grade", "oil_fill"),
                rules=("oil_volume",), meter="oil_hours"),
    IntervalRow("lash", "lash re-check", hours=3, attempts=60,
                slots=("lash_intake", "lash_exhaust"), rules=("lash", "lash_recheck")),
    IntervalRow("rod_bolts", "rod bolts", hours=12, slots=("rod",), rules=("rod_bolts",)),
    IntervalRow("chain", "chain stretch", hours=8, attempts=100, slots=("chain",)),
    IntervalRow("clutch", "clutch shoes or discs", attempts=120, slots=("clutch",)),
    IntervalRow("plug", "spark plug", hours=20, days=730, slots=("plug",)),
    IntervalRow("gasket", "head gasket", uses=1, slots=("head_gasket",)),
    IntervalRow("fuel", "fuel age", days=60, meter="fuel_age"),
    IntervalRow("brake", "brake pads or band", attempts=200, days=365, slots=("brake",)),
    IntervalRow("filter", "air filter", hours=10, days=180, slots=("air_filter",)),
)  # fmt: skip
"""Usual figures: common practice, no source. A maker's sheet comes first."""

_BY_ID = {row.id: row for row in INTERVALS}


class Interval(Document, frozen=True, kw_only=True):
    """An interval with the user's own figures; its id is that of the row."""

    hours: float | None = None
    attempts: int | None = None
    days: int | None = None
    uses: int | None = None
    at: AwareTime | None = None  # when it was put so
    note: str = ""


class IntervalHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of intervals needs: all of it."""

    id: str
    hours: float | None = None
    attempts: int | None = None
    days: int | None = None
    uses: int | None = None


INTERVAL_KIND = Kind(name="interval", folder="intervals", type=Interval, head=IntervalHead)


def intervals_from(own: Iterable[Interval | IntervalHead]) -> tuple[IntervalRow, ...]:
    """Return every interval, those of the user in the place of the usual ones."""
    put = {row.id: row for row in own}
    rows = []
    for row in INTERVALS:
        mine = put.get(row.id)
        if mine is not None:
            row = IntervalRow(row.id, row.words, mine.hours, mine.attempts, mine.days, mine.uses,
                              row.slots, row.rules, row.meter, own=True)  # fmt: skip
        rows.append(row)
    return tuple(rows)


def put_interval(
    name: str,
    *,
    hours: float | None = None,
    attempts: int | None = None,
    days: int | None = None,
    uses: int | None = None,
    at: AwareTime | None = None,
) -> Interval:
    """Return an interval with the user's own figures; what is None is not counted by.

    Args:
        name: id of the row, such as ``oil``.
        hours: engine hours, above zero.
        attempts: above zero.
        days: above zero.
        uses: times fitted, above zero.
        at: when it was put so.

    Raises:
        NotFoundError: no such row.
        InputError: a figure is not above zero.
    """
    if name not in _BY_ID:
        raise NotFoundError(f"No interval is called “{name}”.", f"One of: {', '.join(_BY_ID)}.")
    figures = {"hours": hours, "attempts": attempts, "days": days, "uses": uses}
    for what, value in figures.items():
        if value is not None and not 0 < value < 1e6:
            raise InputError(f"{_BY_ID[name].words}: {what} must be above zero.")
    return Interval(id=name, hours=hours, attempts=attempts, days=days, uses=uses, at=at)
