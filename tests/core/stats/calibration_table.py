"""Prints how often the judgement is right, as Markdown tables for the developers' map.

``python tests/core/stats/calibration_table.py``; about a minute.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

if __name__ == "__main__":  # run as a script, the repository itself is not on the path
    sys.path.insert(0, str(Path(__file__).parents[3]))

from tests.core.stats import calibration as sim

Figure = Callable[[sim.Draws], float | None]
Row = tuple[str, Callable[[int], float | None]]


def row(label: str, figure: Figure, dof: int, **kind: Any) -> Row:
    """Return one row: ``figure`` of comparisons drawn for each n, of the kind that draw takes."""
    return label, lambda n: figure(sim.draw(n, dof, **kind))


def table(title: str, rows: list[Row]) -> str:
    """Return one Markdown table with a column for each n and percentages in the cells."""
    lines = [f"**{title}**", "", "| n on each side | " + " | ".join(map(str, sim.SIZES)) + " |"]
    lines.append("|---" * (len(sim.SIZES) + 1) + "|")
    for label, figure in rows:
        cells = [figure(n) for n in sim.SIZES]
        shown = ["-" if cell is None else f"{100 * cell:.1f}" for cell in cells]
        lines.append(f"| {label} | " + " | ".join(shown) + " |")
    return "\n".join(lines) + "\n"


def _kinds() -> list[tuple[str, int, bool]]:
    return [
        (f"{'different days' if days else 'same day'}, {dof} pooled", dof, days)
        for days in (False, True)
        for dof in sim.POOLED
    ]


def coverage_table() -> str:
    """Coverage of the 95 % interval, and of the short cut that is not used."""
    rows = [row(label, sim.coverage, dof, days=days) for label, dof, days in _kinds()]
    for dof in sim.POOLED:
        label = f"short cut (not used), different days, {dof} pooled"
        rows.append(row(label, sim.coverage_by_short_cut, dof, days=True))
    return table("The 95 % interval holds the true difference, %", rows)


def false_call_table() -> str:
    """Share called quicker or slower where there is no difference."""
    rows = [row(label, sim.called, dof, days=days, shift=0.0) for label, dof, days in _kinds()]
    return table("Called quicker or slower with no difference, %", rows)


def power_table() -> str:
    """Share called where there is a difference, against tests that know these two sessions only."""
    rows = []
    for shift in (1.0, 2.0, 4.0):
        rows += [
            row(f"{shift:g} sd, {dof} pooled", sim.called, dof, shift=shift) for dof in sim.POOLED
        ]
        rows.append(row(f"{shift:g} sd, Welch", sim.called_by_welch, 0, shift=shift))
        rows.append(row(f"{shift:g} sd, Student", sim.called_by_student, 0, shift=shift))
    return table("Called where B differs, one day, %", rows)


def robustness_table() -> str:
    """Coverage where the usual sd is wrong by a factor of two; reported, not promised."""
    rows = [
        row(f"true sd {off:g} x usual, {dof} pooled", sim.coverage, dof, sd_factor=off)
        for off in (2.0, 0.5)
        for dof in (0, 10)
    ]
    return table("The usual sd is wrong: the 95 % interval holds the true difference, %", rows)


def repeats_table() -> str:
    """Coverage on different days once repeats have taught the day spread."""
    lines = [
        "**Different days, day spread learnt from repeats (4 a side, 10 pooled)**",
        "",
        "| builds x sessions each | coverage, % |",
        "|---|---|",
    ]
    for builds, sessions in ((1, 2), (2, 3), (4, 4)):
        share = sim.coverage_with_repeats(builds, sessions)
        lines.append(f"| {builds} x {sessions} | {100 * share:.1f} |")
    return "\n".join(lines) + "\n"


def tables() -> str:
    """Return all tables, in reading order."""
    parts = (coverage_table, false_call_table, power_table, robustness_table, repeats_table)
    return "\n".join(part() for part in parts)


if __name__ == "__main__":
    print(tables())  # noqa: T201  # printing is what this script is for
