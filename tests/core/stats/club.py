"""An invented club with known effects: machines, parts that move, days with their own luck."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from core.stats import Block, Column, Contrast, Parted, SumMaker, Usual, lay_out, part

__all__ = ["USUAL", "Club", "contrasts", "covered", "parted"]

USUAL = Usual(sd=0.08, dof=4, day_sd=0.16, day_dof=3, effect_sd=2.0)


@dataclass
class Club:
    """Sessions of a club whose true effects are known."""

    machines: int
    parts: int
    rng: np.random.Generator
    slots: int = 8
    sessions: int = 12
    spread: float = 0.08
    day: float = 0.15
    effect: float = 0.25
    truth: dict[Column, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        counts = [
            self.parts // self.slots + (i < self.parts % self.slots) for i in range(self.slots)
        ]
        self._counts = counts
        self.truth = {
            (f"slot {i}", f"part {j}"): float(self.rng.normal(0.0, self.effect))
            for i, count in enumerate(counts)
            for j in range(count)
        }

    def blocks(self) -> Iterator[Block]:
        """Yield what the club ran: mostly one change a session, some two, some A-B-A."""
        for machine in range(self.machines):
            level = 8.0 + self.rng.normal(0.0, 1.0)
            shelf = [self.rng.choice(n, size=self.rng.integers(1, 4)) for n in self._counts]
            now = [own[0] for own in shelf]
            for day in range(self.sessions):
                before, now = now, self._changed(now, shelf)
                luck = level + self.rng.normal(0.0, self.day)
                drift = self.rng.normal(0.0, 0.05)
                runs = [now] if self.rng.random() < 0.6 else [before, now, before]
                for turn, build in enumerate(runs):
                    moment = float(turn) if len(runs) > 1 and before != now else None
                    yield self._block(machine, day, build, luck + drift * turn, moment)

    def _changed(self, now: list[int], shelf: list[np.ndarray]) -> list[int]:
        after = list(now)
        for _ in range(1 + (self.rng.random() < 0.15)):
            slot = int(self.rng.integers(self.slots))
            after[slot] = int(self.rng.choice(shelf[slot]))
        return after

    def _block(
        self, machine: int, day: int, build: list[int], level: float, moment: float | None
    ) -> Block:
        count = int(self.rng.integers(2, 6))
        levels = tuple((f"slot {i}", f"part {j}") for i, j in enumerate(build))
        true = level + sum(self.truth[column] for column in levels)
        seen = true + self.rng.normal(0.0, self.spread, count)
        ss = float(((seen - seen.mean()) ** 2).sum())
        mean = float(seen.mean())
        return Block(
            f"m{machine:03}", f"d{day:03}", mean, float(count), levels, moment, ss, count - 1
        )


def parted(blocks: Iterator[Block] | list[Block], usual: Usual = USUAL) -> Parted:
    """Return what the blocks say."""
    return part(SumMaker.of(lay_out(blocks)).at, usual)


def contrasts(found: Parted) -> list[Contrast]:
    """Return every level against the first of its factor."""
    first: dict[str, Column] = {}
    made: list[Contrast] = []
    for column in found.columns:
        base = first.setdefault(column[0], column)
        if base != column:
            made.append({base: -1.0, column: 1.0})
    return made


def covered(club: Club, found: Parted) -> tuple[int, int, int]:
    """Return how many ranges hold the truth, how many were told, and how many cannot be."""
    asked = contrasts(found)
    told = [c for c, ok in zip(asked, found.estimable(asked), strict=True) if ok]
    true = [sum(club.truth[column] * weight for column, weight in c.items()) for c in told]
    ranges = found.known(told)
    hits = sum(known.low <= value <= known.high for known, value in zip(ranges, true, strict=True))
    return hits, len(told), len(asked) - len(told)
