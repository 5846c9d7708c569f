"""The verdict as a sentence a tired person can read aloud; built from the numbers, nothing else."""

from __future__ import annotations

from core.attempts import Test
from core.stats import Difference, Verdict, judge
from core.units import format_number
from core.verdict.results import BuildSide, Comparison, Odd

__all__ = [
    "amount",
    "better_worse",
    "difference_words",
    "further",
    "headline",
    "n_words",
    "otherwise",
    "range_words",
    "verdict_words",
    "word_for",
]

_WORDS = {"top": ("faster", "slower"), "coast": ("longer", "shorter")}
_TIMED = ("quicker", "slower")


def better_worse(test: Test) -> tuple[str, str]:
    """Return the words for better and worse of a test: quicker/slower, faster/slower ..."""
    return _WORDS.get(test.shape, _TIMED)


def amount(value: float, test: Test) -> str:
    """Return a size without its sign, with the test's decimals: ``0.96``."""
    return format_number(abs(value), test.decimals)


def _word(value: float, test: Test) -> str:
    better, worse = better_worse(test)
    return better if (value < 0) == test.lower_is_better else worse


def difference_words(value: float, test: Test) -> str:
    """Return a difference with its word: ``0.96 s quicker``; ``no difference`` when it rounds to 0.

    Args:
        value: B minus A in the test's unit.
        test: the test it was made in.
    """
    if float(amount(value, test)) == 0:
        return "no difference"
    return f"{amount(value, test)} {test.unit} {_word(value, test)}"


def range_words(difference: Difference, test: Test) -> str:
    """Return the range the true difference lies in: ``0.76 to 1.17`` or ``0.11 quicker to ...``."""
    low, high = difference.low, difference.high
    if low < 0 < high:
        near, far = (low, high) if test.lower_is_better else (high, low)
        return f"{amount(near, test)} {_word(near, test)} to {amount(far, test)} {_word(far, test)}"
    small, large = sorted((abs(low), abs(high)))
    return f"{amount(small, test)} to {amount(large, test)}"


def n_words(side: BuildSide) -> str:
    """Return how much a side rests on: ``4 pairs``, ``1 attempt``."""
    return f"{side.n} {side.kind}{'' if side.n == 1 else 's'}"


def headline(made: Comparison, test: Test) -> str:
    """Return the verdict as one sentence: what, how much, how sure, on how much it rests."""
    assert made.difference is not None  # noqa: S101  narrows the type
    a, b = made.a, made.b
    size = difference_words(made.difference.value, test)
    rests = f"{n_words(b)} against {n_words(a)}, {_days(made)}"
    span = range_words(made.difference, test)
    matters = f"the {made.gain:g} {test.unit} you said matters" if made.gain else ""
    if made.verdict in (Verdict.QUICKER, Verdict.SLOWER):
        tail = f"; that is less than {matters}" if made.below_gain else ""
        return f"{b.label} is {size} than {a.label} ({span}; {rests}){tail}."
    if made.verdict is Verdict.NO_DIFFERENCE:
        return f"No difference worth having: {size} ({span}; {rests}), inside {matters}."
    if any(cap.holds_back for cap in made.caps):
        return (
            f"Can't tell yet: {size} as it stands ({span}; {rests}), but something holds it back."
        )
    tail = f"; {made.settle.sentence}" if made.settle else "."
    return f"Can't tell yet: {size}, but anything from {span} fits ({rests}){tail}"


def _days(made: Comparison) -> str:
    if made.drift is not None:
        return f"one day, drift of {made.drift:+.{made.decimals}f} {made.unit} taken out"
    return "one day" if made.same_day else "two days"


def _label(odd: Odd, made: Comparison) -> str:
    return made.a.label if odd.session == made.a.session else made.b.label


def _small(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def further(made: Comparison, test: Test) -> tuple[str, ...]:
    """Return what else has to be said, the weightiest first: caps, odd attempts, strikes."""
    said = [cap.sentence for cap in made.caps]
    if not made.same_day and made.difference is not None and made.day_spread:
        said.append(
            f"Only one day each: days of one build differ by about {amount(made.day_spread, test)} "
            f"{test.unit} here, and that is in the range."
        )
    said.extend(f"{_label(odd, made)}: {_small(odd.sentence)}" for odd in made.odd)
    for words, other in (
        ("Without what stands apart", made.without_odd),
        ("With the struck attempts counted", made.with_struck),
    ):
        if other is not None:
            said.append(otherwise(words, other, made, test))
    return tuple(said)


def word_for(found: Difference, made: Comparison, test: Test) -> Verdict:
    """Return the answer that another difference of the same comparison would have."""
    if any(cap.holds_back for cap in made.caps):
        return Verdict.CANT_TELL
    return judge(found, made.gain, test.lower_is_better).word


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


def verdict_words(verdict: Verdict, test: Test) -> str:
    """Return the answer in the words of the test: ``quicker``, or ``faster`` for a top speed.

    >>> from core.attempts import find_test
    >>> verdict_words(Verdict.QUICKER, find_test("top"))
    'faster'
    """
    better, worse = better_worse(test)
    return {Verdict.QUICKER: better, Verdict.SLOWER: worse}.get(verdict, str(verdict))
