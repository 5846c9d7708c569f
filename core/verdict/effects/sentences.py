"""Effects in plain sentences; built from the numbers, nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.attempts import Test
from core.stats import Difference, Verdict
from core.verdict.effects.results import PartEffect
from core.verdict.sentences import amount, difference_words, range_words

__all__ = [
    "allowed",
    "count",
    "joined",
    "never_apart",
    "overall",
    "resting",
    "together_line",
    "with_sentence",
]


def count(n: int, word: str) -> str:
    """Return ``1 day`` or ``3 days``."""
    return f"{n} {word}{'' if n == 1 else 's'}"


def joined(words: Sequence[str], last: str = "and") -> str:
    """Return words as a list in a sentence."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def with_sentence(effect: PartEffect, test: Test, tied: Sequence[str]) -> PartEffect:
    """Return the effect with its sentence.

    Args:
        effect: all but its sentence.
        test: what it was made in.
        tied: labels of what it was never tested apart from.
    """
    who = f"{effect.label} {effect.after_words} against {effect.before_words}"
    if effect.known is None:
        other = f" from {joined(tied)}" if tied else ""
        return replace(effect, sentence=f"{who}: never tested apart{other}, so no number.")
    size, span = difference_words(effect.known.value, test), range_words(effect.known, test)
    if effect.verdict is Verdict.CANT_TELL:
        said = f"can't tell yet; {size} as it stands, anything from {span} fits"
    elif effect.verdict is Verdict.NO_DIFFERENCE:
        said = f"no difference worth having: {size} ({span})"
    else:
        said = f"{size} ({span})"
        said += "; less than you said matters" if effect.below_gain else ""
    return replace(effect, sentence=f"{who}: {said}; {_path(effect)}.")


def _path(effect: PartEffect) -> str:
    if effect.how == "by subtraction":
        return "worked out by subtraction, never run with all else the same"
    return f"run {effect.how}"


def never_apart(labels: Sequence[str], *, is_gap: bool, n: int) -> str:
    """Return which things were always changed together.

    Args:
        labels: of the factors, at least one.
        is_gap: whether one of them is not recorded on some sheets.
        n: how many factors there are.
    """
    first, rest = labels[0], labels[1:]
    said = f"Never tested apart: {first}{f' with {joined(rest)}' if rest else ''}."
    if n == 1:
        said = f"Never tested apart: the levels of {first} were not run on one machine in turn."
    if is_gap:
        said += " Some sheets do not record one of them; filling that in may tell them apart."
    return said


def together_line(words: str, known: Difference, test: Test) -> str:
    """Return what a group came to as it was run."""
    span = range_words(known, test)
    return f"{words}: {difference_words(known.value, test)} ({span}), as a whole."


def overall(machine: str, test: Test, effects: Sequence[PartEffect], sessions: int) -> str:
    """Return what there is to say first.

    Args:
        machine: its name.
        test: what was run.
        effects: of parts and settings.
        sessions: how many count.
    """
    where = f"{machine}, {test.name}, {count(sessions, 'session')}"
    if not sessions:
        return f"{machine} has no attempts on {test.name} that count yet."
    if not effects:
        if sessions == 1:
            return f"{where}: one build, so there is nothing to hold it against yet."
        return f"{where}: no part or setting was changed, so none can have an effect."
    told = [e for e in effects if e.verdict in (Verdict.QUICKER, Verdict.SLOWER)]
    apart = [e for e in effects if e.known is None]
    if not told:
        said = "of no change can it be told yet what it did"
    else:
        largest = max(told, key=lambda e: abs(e.known.value) if e.known else 0.0)
        size = difference_words(largest.known.value, test) if largest.known else ""
        said = f"most came of {largest.words} ({size})"
    tail = f"; {count(len(apart), 'change')} never tested apart" if apart else ""
    return f"{where}: {said}{tail}."


def allowed(brought: int, sessions: int, *, asked: bool) -> str:
    """Return what was done about air and rider, in one sentence.

    Args:
        brought: sessions that were brought to one air and rider.
        sessions: all that count.
        asked: whether it was to be done.
    """
    if not asked:
        return "Raw: nothing is allowed for air or rider."
    if not brought:
        return "Nothing is allowed for air or rider: too little was read, or there is no model."
    rest = "all sessions" if brought >= sessions else f"{brought} of {sessions} sessions"
    return (
        f"Air and the rider's weight are allowed for in {rest}, by the machine's own road-load "
        "model; the doubt of it is in the ranges."
    )


def resting(
    test: Test, spread: float | None, day: float | None, followers: Sequence[str]
) -> tuple[str, ...]:
    """Return what the numbers rest on, one sentence each."""
    said = []
    if day is not None and spread is not None:
        said.append(
            f"Days of one build differ by about {amount(day, test)} {test.unit}, a pair's mean "
            f"with the finest gear by {amount(spread, test)} {test.unit}; both are in the ranges."
        )
        said.append(
            "Each effect is taken to be the same whatever else is fitted; where parts act on each "
            "other, only a test of both tells."
        )
    if followers:
        said.append(f"Counted with what they follow: {joined(followers)}.")
    return tuple(said)
