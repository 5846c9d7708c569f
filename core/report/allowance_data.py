"""Allowances and net difference of a comparison, as rows of a table and as plain data."""

from __future__ import annotations

from typing import Any

from core.attempts import find_test
from core.units import format_number
from core.verdict import Comparison, difference_words, range_words

__all__ = ["PART_WORDS", "allowance_rows", "net_data"]

PART_WORDS = {"air": "air", "wind": "wind", "slope": "slope", "mass": "rider's mass"}
"""What stands before each part."""


def allowance_rows(made: Comparison) -> list[tuple[str, str, str]]:
    """Return a row for each part of the allowances, and the net difference below them.

    Parts that come to nothing and have no doubt are left out. Each row is a name, what that
    explains of B against A, and the range it lies in with 95 in 100.
    """
    test = find_test(made.b.test)
    if made.net is None or made.allowances is None:
        return []
    rows = []
    explained = made.allowances.explained
    for part in explained.parts if explained else ():
        if made.drift is not None and part.name != "mass":
            continue
        if any(abs(end) >= 0.5 * 10.0**-made.decimals for end in (part.low, part.high)):
            words = difference_words(part.value, test)
            rows.append(
                (f"{PART_WORDS[part.name]} explains", words, _ends(part.low, part.high, made))
            )
    if made.clock is not None:
        clock = made.clock
        words = difference_words(clock.value, test)
        rows.append(("the clocks explain", words, _ends(clock.low, clock.high, made)))
    rows.append(("net", difference_words(made.net.value, test), range_words(made.net, test)))
    return rows


def _ends(low: float, high: float, made: Comparison) -> str:
    shown = [format_number(end, made.decimals) for end in (low, high)]
    return f"{shown[0]} to {shown[1]}"


def net_data(made: Comparison) -> dict[str, Any]:
    """Return what was allowed for and what is left, as plain data; what is not known is None.

    ``allowance`` holds what each part explains of B minus A, in the comparison's unit.
    """
    found = made.allowances
    explained = found.explained if found else None
    net = made.net
    return {
        "raw_verdict": str(made.raw_verdict),
        "decides": made.decides,
        "allowance": None
        if explained is None
        else {
            **{
                part.name: {"value": part.value, "low": part.low, "high": part.high}
                for part in explained.parts
            },
            "total": {"value": explained.value, "low": explained.low, "high": explained.high},
        },
        "allowance_notes": {
            "air_read": list(found.air_read) if found else None,
            "outside_limits": list(found.outside) if found else [],
            "model": found.model if found else "",
            "converged": found.converged if found else False,
            "why_not": found.why_not if found else "",
        },
        "net": None
        if net is None
        else {
            "difference": net.value,
            "low": net.low,
            "high": net.high,
            "verdict": str(made.verdict),
        },
        "clock_offset": None
        if made.clock is None
        else {
            "value": made.clock.value,
            "low": made.clock.low,
            "high": made.clock.high,
            "n": made.clock.n,
        },
        "situations": [{"id": s.id, "sentence": s.sentence} for s in made.situations],
    }
