"""What a change would do, worked out on paper: before and after, side by side."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from core.bench import ClayOnFile, LiftTables, half_of, halves_on
from core.checks import Cleared, due_for_changes
from core.engine import ValveAngles
from core.reckon.gaps import UPRIGHT
from core.reckon.paper import OnPaper, on_paper
from core.reckon.sides import BuildSide, Margin, build_side, reckoned_retainer
from core.reckon.warnings import warnings_of
from core.setup import FACTORY_RPM, Change, Reading, Sheet, derived_value
from core.units import format_number

__all__ = ["WhatIf", "WhatIfRow", "own_minimums", "what_if"]

_OWN_OF: Mapping[str, str] = {
    "spring_margin_intake": "spring_margin",
    "spring_margin_exhaust": "spring_margin",
    "head_gap": "piston_to_head",
}
"""By derived value: the check whose own requirement stands beside it."""

_LIFTS = ("valve_lift_intake", "valve_lift_exhaust")


@dataclass(frozen=True)
class WhatIfRow:
    """One line of the two sides."""

    id: str
    label: str
    before: str
    after: str
    own: str = ""  # the user's own required minimum; empty: none told

    @property
    def changed(self) -> bool:
        """Whether the plan moves it."""
        return self.before != self.after


@dataclass(frozen=True)
class WhatIf:
    """What a plan would do."""

    changes: tuple[Change, ...]
    before: BuildSide
    after: BuildSide
    alternatives: tuple[BuildSide, ...] = ()  # the same plan with something else kept
    warnings: tuple[str, ...] = ()  # what would touch or go past a limit, a sentence each
    questions: tuple[str, ...] = ()  # about unusual values
    assumed: tuple[str, ...] = ()  # what was taken for granted, a sentence each
    own: Mapping[str, float] | None = None  # the user's own minimums by check, mm

    @property
    def rows(self) -> tuple[WhatIfRow, ...]:
        """Every value, clearance and limit, before and after."""
        return (*self._derived_rows(), *self._gap_rows(), *self._rpm_rows())

    def _own(self, rule: str) -> str:
        own = (self.own or {}).get(rule)
        return "" if own is None else f"{format_number(own)} mm"

    def _derived_rows(self) -> tuple[WhatIfRow, ...]:
        return tuple(
            WhatIfRow(one.id, one.label, one.words, two.words, self._own(_OWN_OF.get(one.id, "")))
            for one, two in zip(self.before.derived, self.after.derived, strict=True)
        )

    def _gap_rows(self) -> tuple[WhatIfRow, ...]:
        own = self._own("valve_to_piston")
        gaps = tuple(
            WhatIfRow(f"gap_{a.side}", f"{a.side} valve-to-piston gap", a.words, b.words, own)
            for a, b in zip(self.before.gaps, self.after.gaps, strict=True)
        )
        margin = WhatIfRow(
            "retainer_margin",
            "retainer-to-guide margin",
            self.before.retainer.words,
            self.after.retainer.words,
            self._own("retainer_margin"),
        )
        return (*gaps, margin)

    def _rpm_rows(self) -> tuple[WhatIfRow, ...]:
        one, two = self.before, self.after
        over = WhatIfRow("over_speed", "rpm limits", one.over_speed, two.over_speed)
        if one.rpm_at_top is None and two.rpm_at_top is None:
            return (over,)
        words = (
            "unknown" if at is None else f"{at.low:,.0f} rpm, {at.high:,.0f} with 3 % slip"
            for at in (one.rpm_at_top, two.rpm_at_top)
        )
        return (WhatIfRow("rpm_at_top", "rpm at expected top speed", *words), over)


def own_minimums(history: Sequence[Cleared], clay: ClayOnFile | None = None) -> dict[str, float]:
    """Return the user's own required minimums as last told, by check, mm.

    Args:
        history: answers to the checks of the machine, oldest first.
        clay: the reading on file, which may tell one.
    """
    found: dict[str, float] = {}
    if clay is not None and clay.own is not None:
        found["valve_to_piston"] = clay.own
    told = ((one.record.rule, one.record.own) for one in history)
    return found | {rule: own for rule, own in told if own is not None}


def what_if(
    sheet: Sheet,
    typed: Mapping[str, str | Reading],
    *,
    rpm_factory: float = FACTORY_RPM,
    clay: ClayOnFile | None = None,
    lift_tables: LiftTables | None = None,
    halves: Mapping[str, float] | None = None,
    history: Sequence[Cleared] = (),
    top_speed: float | None = None,
    angles: ValveAngles = UPRIGHT,
    own: Mapping[str, float] | None = None,
    at: datetime | None = None,
) -> WhatIf:
    """Return what a change would do to everything that follows from the sheet.

    Args:
        sheet: as the machine stands.
        typed: text or reading by slot id; nothing is saved.
        rpm_factory: governed speed of the machine as its maker built it, rpm.
        clay: the newest clay reading, with the build it was taken on.
        lift_tables: of the cam that is in; with them the gap is exact within its geometry.
        halves: give or take of the sheet's values by slot; None: by the usual instruments.
        history: answers to the checks of the machine, oldest first.
        top_speed: expected at the place, km/h; None: not told.
        angles: of valve stems and crown; the usual are upright and flat.
        own: the user's own required minimums by check, mm; None: as last told.
        at: the time now.

    Raises:
        InputError: a value is refused; nothing is lost by that.
        NotFoundError: no such slot.
    """
    widths = halves_on(sheet) if halves is None else halves
    minimums = own_minimums(history, clay) if own is None else dict(own)
    plan = on_paper(sheet, typed, widths, at)
    retainers = _retainers(sheet, plan.sheet, widths)
    due = due_for_changes(plan.changes, 0, plan.sheet, history)

    side = partial(
        build_side, rpm_factory=rpm_factory, clay=clay, tables=lift_tables, top_speed=top_speed,
        angles=angles, own_gap=minimums.get("valve_to_piston"),
    )  # fmt: skip
    planned = partial(side, retainer=retainers[1], due=due)
    after = planned("after", plan.sheet, halves=plan.halves)
    return WhatIf(
        changes=plan.changes,
        before=side("before", sheet, halves=widths, retainer=retainers[0]),
        after=after,
        alternatives=_deck_kept(plan, planned, widths),
        warnings=warnings_of(after, minimums),
        questions=plan.questions,
        assumed=plan.assumed,
        own=minimums,
    )


def _deck_kept(
    plan: OnPaper, planned: Callable[..., BuildSide], widths: Mapping[str, float]
) -> tuple[BuildSide, ...]:
    """Return the same plan with the deck as it was, where it was reckoned anew."""
    if plan.kept is None:
        return ()
    deck = format_number(plan.kept.readings["deck"].value or 0.0)
    halves = {**plan.halves, "deck": widths.get("deck", half_of("deck"))}
    return (planned(f"after, with the deck kept at {deck} mm", plan.kept, halves=halves),)


def _retainers(before: Sheet, after: Sheet, halves: Mapping[str, float]) -> tuple[Margin, Margin]:
    lifts = tuple((derived_value(before, name), derived_value(after, name)) for name in _LIFTS)
    half = halves.get("retainer_margin", half_of("retainer_margin"))
    return reckoned_retainer(before, after, lifts, half)
