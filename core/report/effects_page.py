"""What each part did as a page, as a picture, and as plain data for scripts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from core.attempts import find_test
from core.report.document import Block, Bullets, Column, Heading, Paragraph, Report, Table
from core.report.pictures import Bar, Picture, PictureRow
from core.stats import Difference, Verdict
from core.verdict import better_worse, difference_words, range_words, verdict_words
from core.verdict.effects import PartEffect, PartEffects, Together

__all__ = ["effects_data", "effects_page", "effects_picture", "effects_table"]

_ALL_ELSE = {
    "alone, on one day": "alone, one day",
    "alone, on different days": "alone, days",
    "by subtraction": "subtraction",
}


def effects_page(found: PartEffects) -> Report:
    """Return the page: the sentence first, the table, what was never apart, what it rests on."""
    blocks: list[Block] = [Paragraph(found.sentence)]
    if found.effects:
        blocks += [Heading("Parts and settings"), effects_table(found, found.effects)]
    if found.together:
        blocks += [Heading("Never tested apart"), *_groups(found.together)]
    if found.around:
        blocks += [Heading("Who, where and how"), effects_table(found, found.around)]
    notes = (*found.notes, *found.left_out)
    if notes:
        blocks += [Heading("What it rests on"), Bullets(notes)]
    return Report(f"What each part did: {found.machine_name}, {found.test}", tuple(blocks))


def effects_table(found: PartEffects, effects: Sequence[PartEffect]) -> Table:
    """Return effects as a table; what was never tested apart has no number.

    Args:
        found: for the test.
        effects: of it.
    """
    columns = (
        Column("what", flexible=True),
        Column("from -> to", flexible=True),
        Column("did", flexible=True),
        Column("range", flexible=True),
        Column("run"),
    )
    return Table(columns, tuple(_row(found, effect) for effect in effects), wraps=True)


def _row(found: PartEffects, effect: PartEffect) -> tuple[str, ...]:
    change = f"{effect.before_words} -> {effect.after_words}"
    if effect.known is None:
        return (effect.label, change, "never tested apart", "-", "-")
    test = find_test(found.test)
    size = difference_words(effect.known.value, test)
    return (
        effect.label,
        change,
        "can't tell yet" if effect.verdict is Verdict.CANT_TELL else size,
        range_words(effect.known, test),
        _ALL_ELSE[effect.how],
    )


def _groups(groups: Sequence[Together]) -> Iterator[Block]:
    for group in groups:
        yield Paragraph(group.sentence)
        if group.lines:
            yield Bullets(tuple(line.sentence for line in group.lines))


def effects_picture(found: PartEffects, effects: Sequence[PartEffect]) -> Picture:
    """Return effects on one axis with a zero line; only those that are told have a row.

    Args:
        found: for the test and the smallest gain.
        effects: of it.
    """
    test = find_test(found.test)
    better, worse = better_worse(test)
    return Picture(
        rows=tuple(
            PictureRow(
                label=effect.after_words,
                role="beside" if effect.verdict is Verdict.CANT_TELL else "main",
                note=effect.label,
                bar=Bar(effect.known.value, effect.known.low, effect.known.high),
                said=difference_words(effect.known.value, test),
                block=str(number),
            )
            for number, effect in enumerate(effects)
            if effect.known is not None
        ),
        unit=found.unit,
        decimals=found.decimals,
        is_difference=True,
        gain=found.gain,
        ends=(better, worse) if test.lower_is_better else (worse, better),
    )


def effects_data(found: PartEffects) -> dict[str, Any]:
    """Return effects as plain data; what was never tested apart is None."""
    return {
        "machine": found.machine_name,
        "test": found.test,
        "unit": found.unit,
        "lower_is_better": found.lower_is_better,
        "gain": found.gain,
        "sessions": found.sessions,
        "days": found.days,
        "spread": found.spread,
        "day_spread": found.day_spread,
        "effects": [_effect_data(found, effect) for effect in found.effects],
        "circumstances": [_effect_data(found, effect) for effect in found.around],
        "never_apart": [
            {
                "what": list(group.labels),
                "together": [
                    {"words": line.words, **_difference_data(line.known)} for line in group.lines
                ],
                "sentence": group.sentence,
            }
            for group in found.together
        ],
        "left_out": list(found.left_out),
        "notes": list(found.notes),
        "sentence": found.sentence,
    }


def _effect_data(found: PartEffects, effect: PartEffect) -> dict[str, Any]:
    return {
        "slot": effect.factor,
        "label": effect.label,
        "before": effect.before_words,
        "after": effect.after_words,
        **_difference_data(effect.known),
        "verdict": verdict_words(effect.verdict, find_test(found.test)),
        "below_gain": effect.below_gain,
        "how": effect.how if effect.known is not None else None,
        "sessions_before": effect.sessions[0],
        "sessions_after": effect.sessions[1],
        "sentence": effect.sentence,
    }


def _difference_data(known: Difference | None) -> dict[str, Any]:
    if known is None:
        return {"difference": None, "low": None, "high": None}
    return {"difference": known.value, "low": known.low, "high": known.high}
