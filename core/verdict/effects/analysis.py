"""From blocks to results: which differences are told, how they are known, what was never apart."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import fsum, inf

from core.attempts import Test, find_test
from core.setup import slot_of, slot_order
from core.stats import (
    Block,
    Column,
    Contrast,
    Difference,
    Known,
    Levels,
    Parted,
    SumMaker,
    Usual,
    Verdict,
    added,
    judge,
    lay_out,
    part,
)
from core.verdict.effects import sentences as say
from core.verdict.effects.evidence import CIRCUMSTANCES, Evidence, usual_of
from core.verdict.effects.levels import NOT_RECORDED
from core.verdict.effects.results import How, PartEffect, Together, TogetherLine

__all__ = ["Analysis", "analyse", "factor_label", "factor_order"]

_Told = tuple[Difference | None, Verdict, bool]


def factor_label(factor: str) -> str:
    """Return what a slot or circumstance is called."""
    return CIRCUMSTANCES.get(factor) or slot_of(factor).label


def factor_order(factor: str) -> tuple[int, tuple[int, str]]:
    """Return what factors are sorted by: slots as on the sheet, then who, where and how."""
    around = list(CIRCUMSTANCES)
    if factor in CIRCUMSTANCES:
        return (1, (around.index(factor), factor))
    return (0, slot_order(factor))


@dataclass(frozen=True)
class Analysis:
    """What the blocks of a test were found to say; also what a next test is planned from."""

    test: Test
    evidence: Evidence
    usual: Usual
    parted: Parted | None  # None: nothing ever varied
    effects: tuple[PartEffect, ...] = ()
    together: tuple[Together, ...] = ()


def analyse(evidence: Evidence, gain: float | None, logs: Sequence[str] = ()) -> Analysis:
    """Return what the blocks of a test say.

    Args:
        evidence: what the log holds, at least one block.
        gain: smallest gain worth having, in the test's unit; None: not said.
        logs: the log each block is of, where they are of several: each log's sums are then formed
            by themselves and added, with the same result as if all were in one.

    Raises:
        InputError: a value in the log is not a finite number.
    """
    test = find_test(evidence.test)
    blocks = _varying(evidence.blocks)
    shares: dict[str, list[Block]] = {}
    for block, log in zip(blocks, logs or [""] * len(blocks), strict=True):
        shares.setdefault(log, []).append(block)
    layouts = [lay_out(share) for share in shares.values()]
    total = fsum(layout.total for layout in layouts)
    level = fsum(layout.level * layout.total for layout in layouts) / total
    usual = usual_of(test, level, evidence.step)
    if not any(layout.columns for layout in layouts):
        return Analysis(test, evidence, usual, None)
    makers = [SumMaker.of(layout, usual.sd**2) for layout in layouts]
    parted = part(lambda ratios: added([maker.at(ratios) for maker in makers]), usual)
    maker = _Maker(test, evidence, parted, gain)
    return Analysis(test, evidence, usual, parted, tuple(maker.effects()), tuple(maker.together()))


def _varying(blocks: Sequence[Block]) -> list[Block]:
    """Return the blocks without factors that have one level on each machine."""
    seen: defaultdict[str, set[Levels]] = defaultdict(set)
    for block in blocks:
        seen[block.machine].add(block.levels)
    varied: set[str] = set()
    for builds in seen.values():
        found: defaultdict[str, set[str]] = defaultdict(set)
        for levels in builds:
            for factor, level in levels:
                found[factor].add(level)
        varied |= {factor for factor, levels in found.items() if len(levels) > 1}
    cut: dict[Levels, Levels] = {}
    made = []
    for block in blocks:
        if block.levels not in cut:
            cut[block.levels] = tuple(c for c in block.levels if c[0] in varied)
        made.append(_with_levels(block, cut[block.levels]))
    return made


def _with_levels(block: Block, levels: Levels) -> Block:
    return Block(
        block.machine, block.day, block.value, block.weight, levels, block.moment,
        block.ss, block.dof, block.allowance_sd,
    )  # fmt: skip


def _difference(known: Known) -> Difference:
    return Difference(known.value, known.low, known.high, known.sd, inf, 0, 0)


class _Maker:
    """Makes results out of what was parted."""

    def __init__(self, test: Test, evidence: Evidence, parted: Parted, gain: float | None) -> None:
        self._test, self._evidence, self._parted, self._gain = test, evidence, parted, gain
        self._tied = {name: tied for tied in parted.tied() for name in tied}
        self._sessions: defaultdict[Column, set[str]] = defaultdict(set)
        self._first: dict[Column, int] = {}
        for index, (block, session) in enumerate(
            zip(evidence.blocks, evidence.sessions, strict=True)
        ):
            for column in block.levels:
                self._sessions[column].add(session)
                self._first.setdefault(column, index)
        self._paths = _Paths(evidence.blocks)

    def effects(self) -> Iterator[PartEffect]:
        """Yield each level against the first one of its factor that it can be held against."""
        levels: defaultdict[str, list[Column]] = defaultdict(list)
        for column in self._parted.columns:
            levels[column[0]].append(column)
        pairs: list[tuple[Column, Column, bool]] = []
        for factor in sorted(levels, key=factor_order):
            pairs += self._pairs(sorted(levels[factor], key=lambda c: self._first.get(c, 0)))
        told = iter(self._parted.known([_against(b, a) for b, a, ok in pairs if ok]))
        for after, before, ok in pairs:
            yield self._effect(before, after, next(told) if ok else None)

    def _pairs(self, columns: Sequence[Column]) -> Iterator[tuple[Column, Column, bool]]:
        """Yield levels with the earliest one they can be told from, and whether there is one."""
        bases = [columns[0]]
        for column in columns[1:]:
            can = self._parted.estimable([_against(column, base) for base in bases])
            if any(can):
                yield column, bases[can.index(True)], True
            else:
                yield column, bases[0], False
                bases.append(column)

    def _effect(self, before: Column, after: Column, known: Known | None) -> PartEffect:
        difference, verdict, below = self._judged(known)
        factor = after[0]
        tied = [factor_label(f) for f in self._tied.get(factor, ()) if f != factor]
        how = self._paths.of(before, after)
        words = self._evidence.words
        made = PartEffect(
            factor=factor,
            label=factor_label(factor),
            before=before,
            after=after,
            before_words=words.get(before, before[1]),
            after_words=words.get(after, after[1]),
            known=difference,
            verdict=verdict,
            below_gain=below,
            how=how,
            sessions=(len(self._sessions[before]), len(self._sessions[after])),
            sentence="",
        )
        return say.with_sentence(made, self._test, tied)

    def _judged(self, known: Known | None) -> _Told:
        if known is None:
            return None, Verdict.CANT_TELL, False
        difference = _difference(known)
        judged = judge(difference, self._gain, self._test.lower_is_better)
        return difference, judged.word, judged.below_gain

    def together(self) -> Iterator[Together]:
        """Yield the groups that were never tested apart, with what each came to as it was run."""
        for tied in self._parted.tied():
            factors = tuple(sorted(tied, key=factor_order))
            labels = tuple(factor_label(factor) for factor in factors)
            lines = tuple(self._as_run(factors))
            gaps = any(
                level == NOT_RECORDED for factor, level in self._parted.columns if factor in factors
            )
            yield Together(
                factors, labels, lines, say.never_apart(labels, is_gap=gaps, n=len(labels))
            )

    def _as_run(self, factors: Sequence[str]) -> Iterator[TogetherLine]:
        """Yield the combinations that were run against the first one, where they can be told."""
        combos: dict[Levels, None] = {}
        for block in self._evidence.blocks:
            combos[tuple(column for column in block.levels if column[0] in factors)] = None
        whole = [combo for combo in combos if len(combo) == len(factors)]
        contrasts = [_between(whole[0], combo) for combo in whole[1:]] if whole else []
        can = self._parted.estimable(contrasts) if contrasts else ()
        told = iter(self._parted.known([c for c, ok in zip(contrasts, can, strict=True) if ok]))
        for combo, ok in zip(whole[1:], can, strict=True):
            if ok:
                yield self._line(whole[0], combo, next(told))

    def _line(self, before: Levels, after: Levels, known: Known) -> TogetherLine:
        kept = [(a, b) for a, b in zip(_sorted(before), _sorted(after), strict=True) if a != b]
        said = [
            " + ".join(self._evidence.words.get(side[i], side[i][1]) for side in kept)
            for i in (0, 1)
        ]
        words = f"{said[0]} -> {said[1]}"
        difference = _difference(known)
        return TogetherLine(words, difference, say.together_line(words, difference, self._test))


def _sorted(levels: Levels) -> list[Column]:
    return sorted(levels, key=lambda column: factor_order(column[0]))


def _against(after: Column, before: Column) -> Contrast:
    return {after: 1.0, before: -1.0}


def _between(before: Levels, after: Levels) -> Contrast:
    weights: defaultdict[Column, float] = defaultdict(float)
    for column in after:
        weights[column] += 1.0
    for column in before:
        weights[column] -= 1.0
    return weights


class _Paths:
    """Tells whether two levels were ever run with all else the same, and on one day."""

    def __init__(self, blocks: Iterable[Block]) -> None:
        self._ran: Mapping[tuple[str, Levels], set[str]]
        ran: defaultdict[tuple[str, Levels], set[str]] = defaultdict(set)
        for block in blocks:
            ran[block.machine, block.levels].add(block.day)
        self._ran = ran
        self._having: defaultdict[Column, list[tuple[str, Levels]]] = defaultdict(list)
        for key in ran:
            for column in key[1]:
                self._having[column].append(key)

    def of(self, before: Column, after: Column) -> How:
        """Return how a difference of two levels came to be known."""
        found: How = "by subtraction"
        for machine, levels in self._having[after]:
            other = tuple(before if column == after else column for column in levels)
            days = self._ran.get((machine, other))
            if days is None:
                continue
            if days & self._ran[machine, levels]:
                return "alone, on one day"
            found = "alone, on different days"
        return found
