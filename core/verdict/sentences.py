"""The verdict as a sentence a tired person can read aloud; built from the numbers, nothing else."""

from __future__ import annotations

from core.attempts import Test
from core.stats import Difference, Verdict, judge
from core.verdict.results import Comparison
from core.verdict.wording import (
    amount,
    better_worse,
    difference_words,
    joined,
    n_words,
    range_words,
    verdict_words,
)

__all__ = [
    "allowed_words",
    "amount",
    "better_worse",
    "difference_words",
    "headline",
    "n_words",
    "otherwise",
    "range_words",
    "verdict_words",
    "word_for",
]


def headline(made: Comparison, test: Test) -> str:
    """Return the verdict as one sentence: what, how much, how sure, on how much it rests."""
    found = made.deciding
    assert found is not None  # noqa: S101  narrows the type
    a, b = made.a, made.b
    rests = f"{n_words(b)} against {n_words(a)}, {_days(made)}"
    span = range_words(found, test)
    matters = f"the {made.gain:g} {test.unit} you said matters" if made.gain else ""
    if made.verdict in (Verdict.QUICKER, Verdict.SLOWER):
        tail = f"; that is less than {matters}" if made.below_gain else ""
        return f"{b.label} is {_sizes(made, test, a.label)} ({span}; {rests}){tail}."
    if made.verdict is Verdict.NO_DIFFERENCE:
        return (
            f"No difference worth having: {_sizes(made, test)} ({span}; {rests}), inside {matters}."
        )
    if any(cap.holds_back for cap in made.caps):
        size = _sizes(made, test)
        stands = "" if made.net else " as it stands"
        return f"Can't tell yet: {size}{stands} ({span}; {rests}), but something holds it back."
    tail = f"; {made.settle.sentence}" if made.settle else "."
    return f"Can't tell yet: {_sizes(made, test)}, but anything from {span} fits ({rests}){tail}"


def _sizes(made: Comparison, test: Test, against: str = "") -> str:
    """The difference as clocked, and behind it what is left once something is allowed for."""
    assert made.difference is not None  # noqa: S101  narrows the type
    raw = difference_words(made.difference.value, test)
    than = f" than {against}" if against else ""
    if made.net is None or not allowed_words(made, test):
        return f"{raw}{than}"
    net = difference_words(made.net.value, test)
    return f"{raw}{than} as clocked, {net} with {allowed_words(made, test)} allowed for"


def allowed_words(made: Comparison, test: Test) -> str:
    """Return what is allowed for, as a list in a sentence: ``air and wind``; empty: nothing is.

    Args:
        made: a comparison with a net difference.
        test: what was run.
    """
    names = []
    explained = made.allowances.explained if made.allowances else None
    if explained is not None and made.drift is None:
        read = made.allowances is not None and all(made.allowances.air_read)
        shown = [part for part in explained.parts if float(amount(part.value, test)) != 0.0]
        names = [_PARTS[part.name] for part in shown if read or part.name != "air"]
        names = names or ([_PARTS["air"]] if read else [])
    elif explained is not None:
        names = [_PARTS["mass"]]
    if made.clock is not None:
        names.append("the clocks")
    return joined(names) if names else ""


_PARTS = {"air": "air", "wind": "wind", "slope": "slope", "mass": "the rider's mass"}


def _days(made: Comparison) -> str:
    if made.drift is not None:
        return f"one day, drift of {made.drift:+.{made.decimals}f} {made.unit} taken out"
    return "one day" if made.same_day else "two days"


def word_for(found: Difference, made: Comparison, test: Test) -> Verdict:
    """Return the answer that another difference of the same comparison would have."""
    if any(cap.holds_back for cap in made.caps):
        return Verdict.CANT_TELL
    return judge(made.as_decided(found), made.gain, test.lower_is_better).word


def otherwise(words: str, found: Difference, made: Comparison, test: Test) -> str:
    """Return what a comparison would come to otherwise, and whether the answer hangs on it.

    Args:
        words: what is left out or put in: ``Without what stands apart``.
        found: the difference as it would be.
        made: the comparison as it counts.
        test: what was run.
    """
    size = f"{difference_words(found.value, test)} ({range_words(found, test)})"
    word = verdict_words(word_for(found, made, test), test)
    if word == verdict_words(made.verdict, test):
        return f"{words}: {size}; the answer stays “{word}”."
    return f"{words}: {size}; the answer would be “{word}”, so it hangs on that."
