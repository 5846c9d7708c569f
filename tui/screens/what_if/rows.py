"""The lines of a plan: changes, gaps, margins, what follows, limits, checks; before and after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.checks import level_words, reason_lines, rule_for
from core.ranged import Ranged
from core.reckon import BuildSide, Gap, WhatIf, ranged_words
from core.setup import Derived, reading_words, slot_of
from tui.screens.what_if.plan import shown_side
from tui.text import plain
from tui.widgets.columns import Column
from tui.widgets.records import Line, Toned

__all__ = ["DUE", "PLAN_COLUMNS", "SLOT", "PlanRow", "plan_lines", "plan_rows"]

SLOT, DUE = "slot:", "due:"
"""Heads of the ids of lines that are changes, and of lines that are checks."""

PLAN_COLUMNS = (
    Column("", 1, 1),
    Column("What", 12, 24),
    Column("Before", 10, 22),
    Column("After", 10, 60),
)
_MOVED, _OPEN = "≠", "○"
_NOTHING = "–"
_SHORT = {
    "mean_piston_speed": "piston speed, planned",
    "relative_rod_load": "rod load, planned",
    "retainer_margin": "retainer to guide",
}
"""Labels that are too long to stand before two values, and what stands there."""
_LEVELS = {"start": "stop before the start", "run": "stop before attempts", "advice": "advice"}
_LIMIT = "lowest_rpm_limit"
_EARLY = ("compression_ratio", "head_gap", "spring_margin_intake", "spring_margin_exhaust")
"""Derived values that stand with the clearances, before all others."""


@dataclass(frozen=True)
class PlanRow:
    """One line, with everything there is to say about it."""

    id: str
    label: str
    before: str
    after: str
    full: tuple[str, ...] = ()  # sentences for the lines below the list
    moved: bool = False
    short: tuple[str, str] = ("", "")  # what stands where before or after would be cut

    @property
    def sign(self) -> str:
        """The mark before it."""
        if self.id.startswith(DUE):
            return _OPEN
        return _MOVED if self.moved else ""


def plan_rows(made: WhatIf, *, other: bool = False) -> tuple[PlanRow, ...]:
    """Return the lines of a plan.

    Args:
        made: what the plan would do.
        other: show its first alternative under After.
    """
    after = shown_side(made, other=other)
    return (
        *_changes(made),
        *_gaps(made, after),
        *_derived(made, after, early=True),
        _retainer(made, after),
        *_derived(made, after, early=False),
        *_speeds(made, after),
        *_due(after),
    )


def plan_lines(rows: tuple[PlanRow, ...]) -> tuple[Line, ...]:
    """Return the lines as the list shows them."""
    return tuple(_line(row) for row in rows)


def _line(row: PlanRow) -> Line:
    tone = "strong" if row.moved else "plain"
    return Line(
        row.id,
        (
            Toned(row.sign, "strong"),
            Toned(plain(row.label), tone),
            Toned(plain(row.before), "quiet" if not row.moved else "plain", row.short[0]),
            Toned(plain(row.after), tone, row.short[1]),
        ),
    )


def _changes(made: WhatIf) -> Iterator[PlanRow]:
    for change in made.changes:
        slot = slot_of(change.slot)
        words = [plain(reading_words(slot, one)) for one in (change.before, change.after)]
        full = (f"On paper: {change.words}.",)
        yield PlanRow(SLOT + change.slot, slot.label, words[0], words[1], full, moved=True)


def _mm(value: Ranged | None) -> str:
    return _NOTHING if value is None else ranged_words(value, "mm", 2)


def _gaps(made: WhatIf, after: BuildSide) -> Iterator[PlanRow]:
    own = (made.own or {}).get("valve_to_piston")
    least = "" if own is None else f"Your own least is {own:g} mm."
    for one, two in zip(made.before.gaps, after.gaps, strict=True):
        full = tuple(filter(None, (f"Before: {one.words}.", f"After: {two.words}.", least)))
        moved = one.words != two.words
        name = f"{one.side} valve to piston"
        first = PlanRow(f"gap_{one.side}", name, _gap_words(one), _gap_words(two), full, moved)
        yield first
        if any(gap.guaranteed is not None and gap.exact is None for gap in (one, two)):
            yield _bound_row(one, two, "guaranteed", "  guaranteed at least", full)
            yield _bound_row(one, two, "optimistic", "  optimistic estimate", full)


def _gap_words(gap: Gap) -> str:
    """Return a gap in few words: the number, or why there is none."""
    if gap.unknown:
        return f"cannot say: {gap.unknown}"
    if gap.exact is None:
        return "between these two:"
    return f"{'at least ' if gap.is_bound else ''}{_mm(gap.exact)}"


def _bound_row(one: Gap, two: Gap, which: str, label: str, full: tuple[str, ...]) -> PlanRow:
    words = [
        _mm(getattr(gap, which)) if gap.exact is None and not gap.unknown else ""
        for gap in (one, two)
    ]
    return PlanRow(f"gap_{one.side}_{which}", label, words[0], words[1], full, words[0] != words[1])


def _bare(found: Derived) -> str:
    return "unknown" if found.value is None else found.words.partition(" (")[0]


def _derived(made: WhatIf, after: BuildSide, *, early: bool) -> Iterator[PlanRow]:
    for one, two in zip(made.before.derived, after.derived, strict=True):
        if (
            one.id == _LIMIT
            or (one.id in _EARLY) is not early
            or not any(
                slot in side.sheet.readings for side in (made.before, after) for slot in one.inputs
            )
        ):
            continue
        full = [f"Before: {one.words}. After: {two.words}.", f"Formula: {two.formula}."]
        own = next((row.own for row in made.rows if row.id == one.id), "")
        full += [f"Your own least is {own}."] if own else []
        label = _SHORT.get(one.id, one.label)
        yield PlanRow(
            one.id, label, one.words, two.words, tuple(full), one.words != two.words,
            (_bare(one), _bare(two)),
        )  # fmt: skip


def _retainer(made: WhatIf, after: BuildSide) -> PlanRow:
    one, two = made.before.retainer.words, after.retainer.words
    full = (f"Before: {one}.", f"After: {two}.")
    return PlanRow("retainer_margin", _SHORT["retainer_margin"], one, two, full, one != two)


def _speeds(made: WhatIf, after: BuildSide) -> Iterator[PlanRow]:
    one, two = made.before, after
    limits = (f"{one.limit.rpm:,.0f} rpm", f"{two.limit.rpm:,.0f} rpm")
    full = tuple(dict.fromkeys((one.over_speed, two.over_speed)))
    moved = limits[0] != limits[1]
    yield PlanRow(_LIMIT, "lowest rpm limit", limits[0], limits[1], full, moved)
    words = (_rpm_words(one.rpm_at_top), _rpm_words(two.rpm_at_top))
    told = (
        "Without slip, and with 3 % of it. t tells another top speed."
        if one.rpm_at_top or two.rpm_at_top
        else "t tells the top speed that is expected at the place."
    )
    yield PlanRow(
        "rpm_at_top", "rpm at top speed", words[0], words[1], (told,), words[0] != words[1]
    )


def _rpm_words(at: Ranged | None) -> str:
    return _NOTHING if at is None else f"{at.low:,.0f} to {at.high:,.0f} rpm"


def _due(after: BuildSide) -> Iterator[PlanRow]:
    for record in after.due:
        rule = rule_for(record)
        full = (rule.question, *reason_lines(record), level_words(record))
        words = _LEVELS[rule.level]
        yield PlanRow(DUE + record.rule, rule.short, "check, due with it", words, full)
