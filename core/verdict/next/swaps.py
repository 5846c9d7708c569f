"""Every swap that could be made now: parts that are here and free, and settings that were run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.checks import Cleared, Rule, due_for_changes, rule_for
from core.reckon.paper import on_paper
from core.setup import (
    Part,
    PartHead,
    Reading,
    Sheet,
    build_readings,
    part_readings,
    shopping,
    slot_of,
)
from core.stats import Column
from core.verdict.effects import catalogue
from core.verdict.next.efforts import COOL_MINUTES, check_minutes, effort_of
from core.verdict.next.results import Swap

__all__ = ["Standing", "swaps_from"]


@dataclass(frozen=True)
class Standing:
    """How the machine stands and what lies beside it."""

    sheet: Sheet  # as it is now
    past: Sequence[Sheet]  # builds that ran the test
    parts: Sequence[Part]  # the whole shelf
    history: Sequence[Cleared]  # answers to checks on this machine, oldest first
    sessions: Mapping[Column, int]  # in how many sessions each level ran the test


def swaps_from(standing: Standing) -> tuple[Swap, ...]:
    """Return every swap of one slot that could be made now, in the order of the sheet.

    A part is a candidate if it is here and free, fits a slot that the machine has and is not the
    one fitted; a setting if the machine ran the test on it before. What keeps the machine in hand
    (governor, limiter, brake, throttle) and what cannot be undone is none.
    """
    shelf = {
        part.id: PartHead(id=part.id, name=part.name, slot=part.slot, same_as=part.same_as)
        for part in standing.parts
    }
    found: dict[Column, Swap] = {}
    for slot, reading, part in (*_free_parts(standing), *_past_settings(standing)):
        if effort_of(slot).where == "never":
            continue
        before, after = (
            _level(standing.sheet, slot, standing.sheet.readings[slot], shelf),
            _level(standing.sheet, slot, reading, shelf),
        )
        if before[0] != after[0] and after[0] not in found:
            found[after[0]] = _swap(standing, slot, reading, part, before, after)
    return tuple(found.values())


def _head(part: Part) -> PartHead:
    return PartHead(id=part.id, name=part.name, slot=part.slot, same_as=part.same_as)


def _free_parts(standing: Standing) -> Iterator[tuple[str, Reading, Part | None]]:
    fitted = standing.sheet.readings
    for part in sorted(standing.parts, key=lambda p: (p.name, p.id)):
        now = fitted.get(part.slot)
        if (
            part.status == "here"
            and not part.same_as
            and now is not None
            and now.part
            and now.part != part.id
        ):
            yield part.slot, part_readings(part)[part.slot], part


def _past_settings(standing: Standing) -> Iterator[tuple[str, Reading, Part | None]]:
    now = build_readings(standing.sheet)
    for sheet in standing.past:
        for slot, reading in build_readings(sheet).items():
            if slot in now and slot_of(slot).kind != "part" and not slot_of(slot).of:
                yield slot, reading, None


def _level(
    sheet: Sheet, slot: str, reading: Reading, shelf: Mapping[str, PartHead]
) -> tuple[Column, str]:
    """Return the level a reading stands for, as the effects name it, and its words."""
    alone = Sheet(readings={slot: reading})
    found = catalogue({"": Sheet(), "one": alone}, shelf)
    column = found.levels["one"][0]
    return column, found.words[column]


def _swap(
    standing: Standing,
    slot: str,
    reading: Reading,
    part: Part | None,
    before: tuple[Column, str],
    after: tuple[Column, str],
) -> Swap:
    typed = part_readings(part) if part else {slot: reading}
    plan = on_paper(standing.sheet, typed, {})
    records = due_for_changes(plan.changes, 0, plan.sheet, standing.history)
    open_ones = [record for record in records if record.answer == "open"]
    minutes, is_cold = check_minutes(open_ones)
    rules = sorted((rule_for(record) for record in open_ones), key=lambda rule: not rule.is_stop)
    effort = effort_of(slot, part.minutes if part else None)
    return Swap(
        slot=slot,
        label=slot_of(slot).label,
        before=before[0],
        after=after[0],
        before_words=before[1],
        after_words=after[1],
        part=part.id if part else "",
        at_strip=effort.where == "strip",
        swap_minutes=effort.minutes,
        check_minutes=minutes,
        cool_minutes=COOL_MINUTES if is_cold else 0.0,
        checks=tuple(_shorts(rules)),
        stops=sum(rule.is_stop for rule in rules),
        sessions=standing.sessions.get(after[0], 0),
        bring=tuple(
            f"{needed.what} ({needed.status})"
            for needed in shopping([slot], standing.parts, [part.id] if part else [])
            if not part or needed.part != part.id
        ),
    )


def _shorts(rules: Iterable[Rule]) -> Iterator[str]:
    return (rule.short for rule in rules)
