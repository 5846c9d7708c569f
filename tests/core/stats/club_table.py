"""Prints how often the ranges of a simulated club hold the truth (fixed seeds).

Run as ``python -m tests.core.stats.club_table``.
"""

from __future__ import annotations

import sys

import numpy as np

from tests.core.stats.club import Club, covered, parted

KINDS = {
    "200 machines, 50 parts": (40, {"machines": 200, "parts": 50}),
    "the same, 3 sessions a machine": (40, {"machines": 200, "parts": 50, "sessions": 3}),
    "the same, days twice as far apart": (40, {"machines": 200, "parts": 50, "day": 0.3}),
    "the same, effects four times as large": (40, {"machines": 200, "parts": 50, "effect": 1.0}),
    "10 machines, 16 parts, 6 sessions": (200, {"machines": 10, "parts": 16, "sessions": 6}),
    "1 machine, 16 parts, 12 sessions": (400, {"machines": 1, "parts": 16}),
}


def main() -> None:
    """Print the table."""
    sys.stdout.write("| club | ranges | hold the truth, % | not told |\n|---|---|---|---|\n")
    for words, (times, how) in KINDS.items():
        hits = told = silent = 0
        for seed in range(times):
            club = Club(rng=np.random.default_rng(seed), **how)  # type: ignore[arg-type]
            found = covered(club, parted(list(club.blocks())))
            hits, told, silent = hits + found[0], told + found[1], silent + found[2]
        sys.stdout.write(f"| {words} | {told} | {100 * hits / told:.1f} | {silent} |\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
