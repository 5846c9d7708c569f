"""Runs of a recording beside typed attempts, and drag from coast-downs, as blocks and as data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from core.ranged import Ranged
from core.report.document import Block, Bullets, Facts, Paragraph
from core.session.matching_runs import Matching
from core.trace import FoundRun, KeptDrag
from core.trace.drag import CoastDrag

__all__ = ["drag_blocks", "drag_data", "match_block", "match_data"]


def match_block(matching: Matching, runs: Sequence[FoundRun]) -> Block:
    """Return which run is which attempt, as sentences.

    Args:
        matching: of the runs with a session.
        runs: the same runs.
    """
    items = []
    if matching.reason:
        items.append(matching.reason)
    for pair in matching.pairs:
        unit = runs[pair.run].unit
        apart = "no time typed" if pair.apart is None else f"{pair.apart:+.2f} {unit} to it"
        items.append(f"run {pair.run + 1} is attempt {pair.attempt}, {apart}")
    if matching.only_runs:
        names = ", ".join(str(place + 1) for place in matching.only_runs)
        items.append(f"without an attempt: run {names}")
    if matching.only_attempts:
        names = ", ".join(map(str, matching.only_attempts))
        items.append(f"without a run: attempt {names}")
    return Bullets(tuple(items)) if items else Paragraph("The session has no attempts yet.")


def match_data(matching: Matching, runs: Sequence[FoundRun]) -> dict[str, Any]:
    """Return the same as plain data; runs are numbered from 1."""
    return {
        "shift": matching.shift,
        "reason": matching.reason,
        "pairs": [
            {"run": p.run + 1, "attempt": p.attempt, "delay": p.delay, "apart": p.apart}
            for p in matching.pairs
        ],
        "only_runs": [place + 1 for place in matching.only_runs],
        "only_attempts": list(matching.only_attempts),
        "unit": runs[0].unit if runs else None,
    }


def drag_blocks(drag: CoastDrag | KeptDrag) -> list[Block]:
    """Return rolling and air drag with their ranges."""
    area = "air density not known" if drag.drag_area is None else f"{drag.drag_area.text()} m²"
    ways = ", ".join(f"{count} {name}" for name, count in drag.each_way.items())
    return [
        Facts(
            (
                ("Coast-downs", ways),
                ("Rolling", f"{drag.f0.text(1)} N, coefficient {drag.rolling.text(4)}"),
                ("Air", f"{drag.f2.text(3)} N·s²/m²"),
                ("Drag area", area),
            )
        ),
        Bullets(drag.notes),
    ]


def drag_data(drag: CoastDrag) -> dict[str, Any]:
    """Return the same as plain data."""
    return {
        "f0": _range(drag.f0),
        "f2": _range(drag.f2),
        "rolling": _range(drag.rolling),
        "drag_area": _range(drag.drag_area),
        "each_way": dict(drag.each_way),
        "half_difference": drag.half_difference,
        "middle_speed": drag.middle_speed * 3.6,
        "notes": list(drag.notes),
    }


def _range(given: Ranged | None) -> dict[str, float] | None:
    return None if given is None else {"value": given.value, "low": given.low, "high": given.high}
