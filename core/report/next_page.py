"""What to test next as a page with the ready plan, and as plain data for scripts."""

from __future__ import annotations

from typing import Any

from core.report.document import Block, Bullets, Column, Facts, Heading, Paragraph, Report, Table
from core.units import format_number
from core.verdict.next import NextTest, Proposal, time_words

__all__ = ["next_data", "next_page", "next_table", "plan_blocks"]


def next_page(found: NextTest, shown: int = 0) -> Report:
    """Return the page: the sentence first, every swap, then the plan of one of them.

    Args:
        found: the swaps.
        shown: index of the one whose plan is shown.
    """
    blocks: list[Block] = [Paragraph(found.sentence)]
    if found.proposals:
        blocks += [next_table(found), *plan_blocks(found.proposals[shown])]
    if found.left_out:
        blocks += [Heading("Not suggested"), Bullets(found.left_out)]
    title = f"What to test next: {found.machine_name}, {found.test}"
    return Report(title, tuple(blocks))


def next_table(found: NextTest) -> Table:
    """Return every swap as a row: what, how, how long, and what it does to the range."""
    columns = (
        Column("", right=True),
        Column("swap", flexible=True),
        Column("how"),
        Column("takes"),
        Column(f"range now -> then, {found.unit}"),
    )
    rows = tuple(_row(found, number, one) for number, one in enumerate(found.proposals, 1))
    return Table(columns, rows, wraps=True)


def _row(found: NextTest, number: int, one: Proposal) -> tuple[str, ...]:
    before, after = (
        f"±{format_number(width, found.decimals)}" for width in (one.width_before, one.width_after)
    )
    takes = time_words(one.minutes)
    return (str(number), one.swap.words, one.design, takes, f"{before} -> {after}")


def plan_blocks(one: Proposal) -> tuple[Block, ...]:
    """Return the reason for a swap and its plan."""
    return (Heading(f"Plan: {one.swap.words}"), Paragraph(one.sentence), Facts(one.plan))


def next_data(found: NextTest) -> dict[str, Any]:
    """Return the swaps as plain data, the one that tells most first."""
    return {
        "machine": found.machine_name,
        "test": found.test,
        "unit": found.unit,
        "about": found.about or None,
        "proposals": [
            {
                "slot": one.swap.slot,
                "label": one.swap.label,
                "before": one.swap.before_words,
                "after": one.swap.after_words,
                "part": one.swap.part or None,
                "design": one.design,
                "pairs": one.pairs,
                "minutes": one.minutes,
                "half_days": one.half_days,
                "rate": one.rate,
                "question": one.question,
                "width_before": one.width_before,
                "width_after": one.width_after,
                "checks": list(one.swap.checks),
                "stop_checks": one.swap.stops,
                "sentence": one.sentence,
                "plan": dict(one.plan),
            }
            for one in found.proposals
        ],
        "left_out": list(found.left_out),
        "sentence": found.sentence,
    }
