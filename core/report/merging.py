"""What a merge would do or did, with conflicts side by side, as a page and as data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from core.exchange import plural
from core.exchange.merge import Clash, Merged, MergePlan
from core.report.document import Block, Bullets, Column, Heading, Paragraph, Report, Table

__all__ = ["clash_blocks", "merge_data", "merge_page", "merge_summary"]

_MOST = 12  # fields shown of one conflict


def merge_page(plan: MergePlan, merged: Merged | None) -> Report:
    """Return what a merge would do, or did.

    Args:
        plan: as made.
        merged: what was done; None: it was only looked at.
    """
    return Report("", tuple(_blocks(plan, merged)))


def merge_summary(plan: MergePlan) -> Iterator[Block]:
    """Yield what a merge would do, without its conflicts."""
    yield Paragraph(_headline(plan, None))
    told = (*plan.left_out, *plan.remarks)
    if told:
        yield Bullets(told)


def clash_blocks(clash: Clash) -> Iterator[Block]:
    """Yield one conflict: both versions side by side, field by field."""
    yield Heading(f"In conflict: {clash.kind} {clash.name} ({clash.id})")
    yield _table(clash)
    extra = len(clash.found) - _MOST
    if extra > 0:
        yield Paragraph(f"and {plural(extra, 'field')} more")


def _blocks(plan: MergePlan, merged: Merged | None) -> Iterator[Block]:
    yield Paragraph(_headline(plan, merged))
    told = [*plan.left_out, *plan.remarks, *(merged.settled if merged else ())]
    if merged and merged.aside:
        kept = plural(len(merged.aside), "version")
        told.append(f"{kept} that did not win: kept under aside, such as {merged.aside[0]}.")
    if told:
        yield Bullets(tuple(told))
    still = merged.open if merged else plan.clashes
    for clash in still:
        yield from clash_blocks(clash)
    if still:
        yield Heading("Your decision")
        yield Paragraph("The log stays as it is until you decide. Run it again with one of:")
        yield Bullets(tuple(_how(still[0])))


def _headline(plan: MergePlan, merged: Merged | None) -> str:
    verb = "went in" if merged else "would go in"
    said = [f"{plan.source.name}: {plural(len(plan.new), 'document')} {verb}"]
    counts = (
        (len(plan.further), "session went on where it ended here", "sessions went on"),
        (plan.same, "is the same", "are the same"),
        (plan.behind, "is an earlier state of what is here", "are earlier states"),
        (plan.decided, "was decided before", "were decided before"),
        (len(merged.open if merged else plan.clashes), "is in conflict", "are in conflict"),
    )
    said += [f"{n} {one if n == 1 else many}" for n, one, many in counts if n]
    return f"{'; '.join(said)}."


def _table(clash: Clash) -> Table:
    columns = (Column("field", flexible=True), Column("here", flexible=True),
               Column("there", flexible=True))  # fmt: skip
    rows = tuple((d.field, d.here, d.there) for d in clash.found[:_MOST])
    return Table(columns, rows, wraps=True)


def _how(clash: Clash) -> Iterator[str]:
    yield f"--here {clash.id}: this log's version stays"
    yield f"--there {clash.id}: the other one takes its place"
    if clash.may_keep_both:
        yield f"--both {clash.id}: both stay, as two sessions"
    else:
        yield f"--there {clash.id}:{clash.found[0].top}: only this field of the other one"
    yield "What does not win is kept under aside, and is not asked about again."


def merge_data(plan: MergePlan, merged: Merged | None) -> dict[str, Any]:
    """Return what a merge would do or did as plain data."""
    still = merged.open if merged else plan.clashes
    return {
        "source": plan.source.name,
        "done": merged is not None,
        "new": [document.id for document in plan.new],
        "went_on": [document.id for document in plan.further],
        "same": plan.same, "behind": plan.behind, "decided_before": plan.decided,
        "settled": list(merged.settled) if merged else [],
        "aside": list(merged.aside) if merged else [],
        "left_out": list(plan.left_out), "remarks": list(plan.remarks),
        "conflicts": [
            {"kind": c.kind, "id": c.id, "name": c.name,
             "fields": [{"field": d.field, "here": d.here, "there": d.there} for d in c.found]}
            for c in still
        ],
    }  # fmt: skip
