"""A comparison as a page, and as plain data for scripts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from core.attempts import find_test
from core.report.allowance_data import allowance_rows, net_data
from core.report.document import Block, Bullets, Column, Heading, Paragraph, Report, Table
from core.report.words import mean_words
from core.setup import Change, Reading, reading_words, slot_of
from core.stats import Difference
from core.units import format_number
from core.verdict import BuildSide, Comparison, difference_words, range_words

__all__ = ["change_data", "comparison_data", "comparison_page"]


def comparison_page(made: Comparison) -> Report:
    """Return a comparison: the sentence first, then the numbers, then what else differed."""
    blocks: list[Block] = [Paragraph(made.sentence)]
    if made.more:
        blocks.append(Bullets(made.more))
    blocks += _numbers(made)
    blocks += _changed(made)
    return Report(f"{made.b.label} against {made.a.label}, {made.b.test}", tuple(blocks))


def _numbers(made: Comparison) -> Iterator[Block]:
    yield Heading("Numbers")
    yield Table(
        (Column("side"), Column("day"), Column("n"), Column("mean", right=True),
         Column("timing"), Column("results", flexible=True)),
        tuple(_side(side, made) for side in (made.a, made.b)),
        wraps=True,
    )  # fmt: skip
    test = find_test(made.b.test)
    first = "as clocked" if made.net else "difference"
    rows = [
        (words, difference_words(other.value, test), range_words(other, test))
        for words, other in (
            (first, made.difference),
            ("without what stands apart", made.without_odd),
            ("with struck attempts", made.with_struck),
        )
        if other is not None
    ]
    rows[1:1] = allowance_rows(made)
    if rows:
        yield Table((Column(""), Column("B against A"), Column("range")), tuple(rows))
    gain = mean_words(made.gain, made.b.test)
    said = [f"Usual scatter of one {made.b.kind}: {mean_words(made.spread, made.b.test)}."]
    if made.day_spread is not None:
        said.append(f"Usual scatter from day to day: {mean_words(made.day_spread, made.b.test)}.")
    said.append(f"Smallest gain worth having: {gain}." if gain else "No smallest gain was set.")
    if made.net is not None and made.allowances is not None and made.allowances.model:
        said.append(f"The net range decides. {made.allowances.model}")
    yield Paragraph(" ".join(said))


def _side(side: BuildSide, made: Comparison) -> tuple[str, ...]:
    values = " ".join(format_number(value, made.decimals) for value in side.values)
    count = f"{side.n} {side.kind}{'' if side.n == 1 else 's'}"
    mean = mean_words(side.mean, side.test) or "-"
    return (side.label, side.day, count, mean, side.timing or "not told", values or "-")


def _changed(made: Comparison) -> Iterator[Block]:
    yield Heading("What changed")
    if not made.changed:
        yield Paragraph("Nothing that was recorded.")
        return
    causes = {change.slot for change in made.causes}
    yield Bullets(tuple(change.words for change in made.causes) or ("nothing that is a cause",))
    rest = tuple(change.words for change in made.changed if change.slot not in causes)
    if rest:
        yield Paragraph("Follows from it, measured or only noted:")
        yield Bullets(rest)


def comparison_data(made: Comparison) -> dict[str, Any]:
    """Return a comparison as plain data; what is not known is None.

    Differences are B minus A in ``unit``, with ``low`` and ``high`` of the range.
    """
    return {
        "a": _side_data(made.a),
        "b": _side_data(made.b),
        "test": made.b.test,
        "unit": made.unit,
        "lower_is_better": made.lower_is_better,
        **_result_data(made),
        "same_day": made.same_day,
        "drift": made.drift,
        "spread": made.spread,
        "spread_dof": made.spread_dof,
        "day_spread": made.day_spread,
        **_reason_data(made),
        "without_odd": _difference_data(made.without_odd),
        "with_struck": _difference_data(made.with_struck),
        "settle": _settle_data(made),
        **net_data(made),
        "sentence": made.sentence,
        "more": list(made.more),
    }


def _result_data(made: Comparison) -> dict[str, Any]:
    """Return the difference, what it rests on and the verdict."""
    found = made.difference
    return {
        "difference": found.value if found else None,
        "low": found.low if found else None,
        "high": found.high if found else None,
        "n_a": made.a.n,
        "n_b": made.b.n,
        "mean_a": made.a.mean,
        "mean_b": made.b.mean,
        "kind_of_observation": made.b.kind,
        "verdict": str(made.verdict),
        "below_gain": made.below_gain,
        "gain": made.gain,
    }


def _reason_data(made: Comparison) -> dict[str, Any]:
    """Return what changed, what limits the difference and what stands apart."""
    causes = {change.slot for change in made.causes}
    return {
        "changed": [
            {**change_data(change), "is_cause": change.slot in causes} for change in made.changed
        ],
        "caps": [
            {"id": cap.id, "sentence": cap.sentence, "holds_back": cap.holds_back}
            for cap in made.caps
        ],
        "odd": [
            {
                "session": odd.session,
                "n": odd.n,
                "value": odd.value,
                "centre": odd.centre,
                "limit": odd.limit,
                "second_opinion": odd.second_opinion,
                "sentence": odd.sentence,
            }
            for odd in made.odd
        ],
    }


def _side_data(side: BuildSide) -> dict[str, Any]:
    return {
        "session": side.session,
        "label": side.label,
        "build": side.build,
        "day": side.day,
        "timing": side.timing,
        "n": side.n,
        "mean": side.mean,
        "values": list(side.values),
        "attempts": [list(numbers) for numbers in side.attempts],
        "left_over": list(side.left_over),
    }


def _difference_data(found: Difference | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {
        "difference": found.value,
        "low": found.low,
        "high": found.high,
        "n_a": found.n_a,
        "n_b": found.n_b,
    }


def _settle_data(made: Comparison) -> dict[str, Any] | None:
    settle = made.settle
    if settle is None:
        return None
    return {
        "more": settle.more,
        "kind": settle.kind,
        "another_day": settle.another_day,
        "days": settle.days,
        "sentence": settle.sentence,
    }


def change_data(change: Change) -> dict[str, Any]:
    """Return one change as plain data."""
    slot = slot_of(change.slot)

    def said(reading: Reading | None) -> str | None:
        return None if reading is None else reading_words(slot, reading)

    return {
        "slot": change.slot,
        "label": slot.label,
        "before": said(change.before),
        "after": said(change.after),
        "words": change.words,
    }
