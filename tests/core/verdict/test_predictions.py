"""A prediction against what it came to."""

from __future__ import annotations

import pytest

from core.session import Prediction, Session
from core.session.documents import SESSION_KIND, SessionHead
from core.verdict import Comparison, Sides, compare, outcome_of
from tests.making import bare_session

BEFORE = "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04 W7.50 E7.12"
QUICKER = "W6.54 E6.15 W6.49 E6.14 W6.46 E6.04 W6.50 E6.12"


def compared(a: Session, b: Session) -> Comparison:
    """B against A in a log of the two."""
    heads = [SESSION_KIND.make_head(s) for s in (a, b) if SESSION_KIND.make_head]
    return compare(Sides(a, "A", b, "A", a.test), [h for h in heads if isinstance(h, SessionHead)])


@pytest.mark.parametrize(
    ("value", "sign", "inside", "words"),
    [
        (-1.0, "right", True, "right, and the size lies in the range"),
        (-0.3, "right", False, "right, though the size lies outside the range"),
        (0.4, "wrong", False, "it went the other way"),
    ],
)
def test_a_clear_difference_settles_the_sign(
    value: float, sign: str, inside: bool, words: str
) -> None:
    """One second quicker on the same day."""
    made = compared(bare_session("S01", [BEFORE]), bare_session("S02", [QUICKER]))
    found = outcome_of(Prediction(value=value), made)
    assert found is not None
    assert (found.sign, found.size_inside) == (sign, inside)
    assert words in found.sentence
    assert "got 1.00 s quicker" in found.sentence


def test_a_range_over_zero_leaves_it_open() -> None:
    """Neither right nor wrong."""
    made = compared(bare_session("S01", [BEFORE]), bare_session("S02", [BEFORE]))
    found = outcome_of(Prediction(value=-0.1, give_or_take=0.05), made)
    assert found is not None
    assert found.sign == "open"
    assert found.sentence.startswith("Predicted 0.10 s quicker, give or take 0.05; got no differ")
    assert found.sentence.endswith("still open.")


def test_nothing_to_compare_is_no_outcome() -> None:
    """An empty session."""
    made = compared(bare_session("S01", [BEFORE]), bare_session("S02", []))
    assert outcome_of(Prediction(value=-0.1), made) is None
