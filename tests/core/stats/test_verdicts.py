"""The four answers, their order, and every edge."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import InputError, OutOfRangeError
from core.stats import Difference, Judgement, Verdict, judge

property_test = settings(max_examples=150, derandomize=True, deadline=None)


def between(low: float, high: float) -> Difference:
    return Difference(value=(low + high) / 2, low=low, high=high, se=0.1, dof=14, n_a=4, n_b=4)


# low, high, gain, word for times (lower is better), under the gain
RULE = [
    (-0.40, -0.20, 0.15, "quicker", False),
    (0.20, 0.40, 0.15, "slower", False),
    (-0.14, -0.02, 0.15, "quicker", True),
    (0.02, 0.14, 0.15, "slower", True),
    (-0.20, -0.10, 0.15, "quicker", False),
    (-0.06, 0.10, 0.15, "no difference worth having", False),
    (-0.11, 0.27, 0.15, "can't tell yet", False),
    (-0.40, -0.20, None, "quicker", False),
    (-0.01, 0.01, None, "can't tell yet", False),
    (-0.01, 0.01, 0.0, "can't tell yet", False),
    # Touching zero counts as containing it; touching the gain counts as reaching it.
    (-0.40, 0.0, 0.15, "can't tell yet", False),
    (0.0, 0.40, 0.15, "can't tell yet", False),
    (0.0, 0.10, 0.15, "no difference worth having", False),
    (-0.15, 0.10, 0.15, "can't tell yet", False),
    (-0.10, 0.15, 0.15, "can't tell yet", False),
    (0.0, 0.0, 0.15, "no difference worth having", False),
    (0.0, 0.0, None, "can't tell yet", False),
    (-0.0, 0.4, 0.15, "can't tell yet", False),
]


@pytest.mark.parametrize(("low", "high", "gain", "word", "below"), RULE)
def test_rule_for_times(
    low: float, high: float, gain: float | None, word: str, below: bool
) -> None:
    assert judge(between(low, high), gain, lower_is_better=True) == Judgement(Verdict(word), below)


@pytest.mark.parametrize(("low", "high", "gain", "word", "below"), RULE)
def test_rule_for_speeds_is_the_mirror(
    low: float, high: float, gain: float | None, word: str, below: bool
) -> None:
    found = judge(between(-high, -low), gain, lower_is_better=False)
    assert found == Judgement(Verdict(word), below)


def test_words_are_plain_text() -> None:
    assert [str(word) for word in Verdict] == [
        "quicker",
        "slower",
        "no difference worth having",
        "can't tell yet",
    ]


@property_test
@given(st.floats(-1, 1), st.floats(0.0, 1.0), st.none() | st.floats(0.0, 1.0), st.booleans())
def test_turning_the_question_round(
    value: float, half: float, gain: float | None, lower: bool
) -> None:
    there = judge(between(value - half, value + half), gain, lower)
    back = judge(between(-value - half, -value + half), gain, lower)
    turned = {Verdict.QUICKER: Verdict.SLOWER, Verdict.SLOWER: Verdict.QUICKER}
    assert back.word is turned.get(there.word, there.word)
    assert back.below_gain == there.below_gain


@property_test
@given(st.floats(-1, 1), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_narrowing_never_takes_an_answer_back(value: float, half: float, gain: float) -> None:
    wide = judge(between(value - half, value + half), gain, True)
    narrow = judge(between(value - half / 2, value + half / 2), gain, True)
    if wide.word in (Verdict.QUICKER, Verdict.SLOWER):
        assert narrow.word is wide.word
    if wide.word is Verdict.NO_DIFFERENCE:
        assert narrow.word is not Verdict.CANT_TELL
        assert narrow.word is Verdict.NO_DIFFERENCE or narrow.below_gain


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="below zero"):
        judge(between(-1, 1), -0.1, True)
    with pytest.raises(InputError, match="not in order"):
        judge(between(1, -1), 0.1, True)
    with pytest.raises(InputError, match="not in order"):
        judge(between(float("nan"), 1), 0.1, True)
