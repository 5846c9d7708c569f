"""Prints the table of simulated seasons for the map, in Markdown; about ten minutes on two cores.

``python tests/core/verdict/season_table.py [SEASONS]``
"""

from __future__ import annotations

import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[3]))

from tests.core.verdict.seasons import KINDS, called, covered, simulate

_ROWS = [
    *((kind, 4, 0.02) for kind in KINDS),
    *((kind, pairs, 0.0) for kind in ("one day", "A-B-A") for pairs in (2, 4)),
]
_HEAD = (
    "pairs a side", "range holds the truth, net", "as clocked", "false calls, net", "as clocked",
    "Welch", "found, net", "Welch",
)  # fmt: skip


def main(count: int) -> None:
    """Print one row for each kind of comparison."""
    out = sys.stdout
    out.write(f"{count} seasons each; % of them\n\n| kind | {' | '.join(_HEAD)} |\n")
    out.write("|---" * (len(_HEAD) + 1) + "|\n")
    for kind, pairs, odd in _ROWS:
        real, none = (simulate(kind, count, pairs, effect, odd=odd) for effect in (0.04, 0.0))
        shares = (
            covered([*real, *none]), covered([*real, *none], "raw"),
            called(none), called(none, "raw_called"), called(none, "welch_called"),
            called(real), called(real, "welch_called"),
        )  # fmt: skip
        cells = " | ".join(f"{100 * share:.1f}" for share in shares)
        out.write(f"| {kind}{'' if odd else ', none odd'} | {pairs} | {cells} |\n")
        out.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
