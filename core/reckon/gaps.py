"""The gap between valve and piston on a sheet, carried there from the clay reading on file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from core.bench import ClayOnFile, LiftTables, Side
from core.engine import ClayReading, ClayState, Projection, ValveAngles, project_clay
from core.errors import BackToBackError, UnknownInputError
from core.ranged import Ranged, carry, carry_worst
from core.reckon.answer import ranged_words
from core.reckon.builds import Builds, builds_between
from core.setup import Sheet

__all__ = ["UPRIGHT", "Gap", "gaps_on"]

UPRIGHT = ValveAngles()
"""Upright valves and a flat crown: the case in which more lift takes most from the gap."""

_MM = 1e-3  # m in a mm
_LEAST_CLAY = 1e-6  # m; a reading's lower end stays above zero
_SIDES: tuple[Side, Side] = ("intake", "exhaust")


@dataclass(frozen=True)
class Gap:
    """What is known of one gap; numbers in mm, None is 'cannot say'.

    ``guaranteed`` is never more than the gap; ``optimistic`` is never less, if the readings are
    right. ``exact`` exists when nothing moved, or with a lift table.
    """

    side: Side
    exact: Ranged | None = None
    guaranteed: Ranged | None = None  # lower bound
    optimistic: Ranged | None = None  # upper bound: the gap at the old tight point
    how: str = ""  # ``as read``, ``from the lift table``, ``no lift table``
    is_bound: bool = False  # the clay was not touched: 'at least' and nothing more
    closest: float | None = None  # crank degrees after overlap top, with a table
    unknown: str = ""  # why nothing can be said, as a sentence; empty: something can
    own: float | None = None  # the user's own least gap, mm

    @property
    def least(self) -> float | None:
        """The least the gap may be with the doubts of its readings, mm; None: cannot say."""
        bound = self.exact or self.guaranteed
        return None if bound is None else bound.low

    @property
    def words(self) -> str:
        """Everything that can be said, each number named."""
        if self.unknown:
            return f"cannot say: {self.unknown}"
        if self.exact is not None:
            return f"{_mm(self.exact)}, {self.how}"
        said = []
        if self.guaranteed is not None:
            said.append(f"guaranteed lower bound {_mm(self.guaranteed)}")
        if self.optimistic is not None:
            said.append(f"optimistic estimate {_mm(self.optimistic)}")
        if self.is_bound:
            said.append("no upper value: the clay was not touched")
        return ", ".join((*said, self.how)) if self.how else ", ".join(said)


def _mm(value: Ranged) -> str:
    return ranged_words(value, "mm", 2)


def gaps_on(
    sheet: Sheet,
    clay: ClayOnFile | None,
    tables: LiftTables | None = None,
    *,
    halves: Mapping[str, float] | None = None,
    angles: ValveAngles = UPRIGHT,
    own: float | None = None,
) -> tuple[Gap, Gap]:
    """Return the gaps of intake and exhaust on a sheet.

    Args:
        sheet: the build asked about.
        clay: the reading on file, with the build it was taken on.
        tables: lift tables of the cam; None: not read.
        halves: give or take of the sheet's values by slot, in the slot's unit.
        angles: of valve stems and crown; the usual are upright and flat.
        own: the user's own least gap, mm; None: as told with the clay.
    """
    if clay is None:
        said = "no clay reading is on file."
        return (Gap("intake", unknown=said, own=own), Gap("exhaust", unknown=said, own=own))
    own = clay.own if own is None else own
    found = []
    for side, reading in zip(_SIDES, clay.sides, strict=True):
        try:
            gap = _gap(side, reading, clay, sheet, tables or LiftTables(), halves or {}, angles)
        except UnknownInputError as error:
            gap = Gap(side, unknown=_without_head(error.message))
        except BackToBackError as error:
            gap = Gap(side, unknown=error.message)
        found.append(replace(gap, own=own))
    return found[0], found[1]


def _without_head(message: str) -> str:
    return message.removeprefix("Unknown: ")


def _gap(
    side: Side,
    reading: ClayReading | None,
    clay: ClayOnFile,
    sheet: Sheet,
    tables: LiftTables,
    halves: Mapping[str, float],
    angles: ValveAngles,
) -> Gap:
    if reading is None:
        raise UnknownInputError("Unknown: no clay reading of this side is on file.", (side,))
    builds = builds_between(side, clay, sheet, tables, halves)
    doubt = Ranged(
        reading.gap, max(min(_LEAST_CLAY, reading.gap), reading.gap - clay.half * _MM),
        reading.gap + clay.half * _MM,
    )  # fmt: skip
    if builds.nothing_moved and reading.state in (ClayState.TOUCHED, ClayState.NOT_TOUCHED):
        return _as_read(side, reading, _in_mm(doubt))
    best = _run(reading, builds, angles)(doubt.value, builds.height.value)
    given = {"gap": doubt, "height": builds.height, "wheel": builds.wheel}
    return Gap(
        side,
        exact=_carried(carry, reading, builds, angles, given, "exact", best.exact),
        guaranteed=_carried(carry_worst, reading, builds, angles, given, "guaranteed", 0.0)
        if best.exact is None
        else None,
        optimistic=_carried(carry, reading, builds, angles, given, "optimistic", best.optimistic)
        if best.exact is None
        else None,
        how="from the lift table" if builds.has_table else "no lift table",
        is_bound=best.is_bound,
        closest=best.closest_new,
    )


def _as_read(side: Side, reading: ClayReading, gap: Ranged) -> Gap:
    if reading.is_bound:
        return Gap(side, guaranteed=gap, is_bound=True)
    return Gap(side, exact=gap, how="as read")


def _run(reading: ClayReading, builds: Builds, angles: ValveAngles) -> Callable[..., Projection]:
    def run(gap: float, height: float, wheel: float = 0.0) -> Projection:
        moved = (
            ClayReading(reading.state, applied=gap)
            if reading.is_bound
            else ClayReading(reading.state, None if reading.thinnest is None else gap)
        )
        old, new = builds.trains(height, wheel)
        return project_clay(moved, old, new, angles, builds.lobe)

    return run


def _carried(
    how: Callable[..., Ranged],
    reading: ClayReading,
    builds: Builds,
    angles: ValveAngles,
    given: Mapping[str, Ranged],
    field: str,
    best: float | None,
) -> Ranged | None:
    """Return one number of the projection with its range, mm; None when there is none."""
    if best is None:
        return None
    run = _run(reading, builds, angles)
    return _in_mm(how(lambda **values: getattr(run(**values), field), **given))


def _in_mm(value: Ranged) -> Ranged:
    return Ranged(*(x / _MM for x in (value.value, value.low, value.high)))
