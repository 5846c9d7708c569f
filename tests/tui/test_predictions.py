"""A prediction is typed as it is said: so much quicker, so much slower, or no change."""

from __future__ import annotations

import pytest

from core.attempts import find_test
from core.errors import InputError
from tui.predictions import Prediction, prediction_words, read_prediction


@pytest.mark.parametrize(
    ("test", "typed", "value", "width"),
    [
        ("0-50", ".3 quicker", -0.3, None),
        ("0-50", "0,3 s slower", 0.3, None),
        ("0-50", "0.3s faster +/- 0.05", -0.3, 0.05),
        ("0-50", "quicker by 0.2 ± 0.1", -0.2, 0.1),
        ("0-50", "no change", 0.0, None),
        ("0-50", "No difference +/- 0.1", 0.0, 0.1),
        ("0-50", "0", 0.0, None),
        ("0-50", "-0,10 +/- 0,05", -0.1, 0.05),
        ("0-50", "+0.1 0.05", 0.1, 0.05),
        ("0-50", "-0.3 quicker", -0.3, None),
        ("0-50", "0.3 better", -0.3, None),
        ("top", "2 quicker", 2.0, None),
        ("top", "2 km/h worse", -2.0, None),
        ("coast-40-15", "1.5 longer", 1.5, None),
        ("coast-40-15", "1.5 better", 1.5, None),
    ],
)
def test_words_give_the_sign(test: str, typed: str, value: float, width: float | None) -> None:
    """By what is better in the test; a sign may be typed instead."""
    assert read_prediction(typed, find_test(test)) == Prediction(value, width)


@pytest.mark.parametrize(
    ("test", "typed", "said"),
    [
        ("0-50", "faster", "How much faster?"),
        ("0-50", "0.3", "0.3 quicker or 0.3 slower?"),
        ("0-50", "+0.3 quicker", "do not go together"),
        ("0-50", "1 2 3", "One number, or two with +/- between them"),
        ("0-50", "0.3 quicker slower", "One number"),
        ("0-50", "0.3 quicker -0.1", "cannot be below zero"),
        ("0-50", "lots quicker", "is not a number"),
        ("coast-40-15", "2 quicker", "say longer or shorter"),
        ("coast-40-15", "2", "2 shorter or 2 longer?"),
    ],
)
def test_what_leaves_a_doubt_is_asked_about(test: str, typed: str, said: str) -> None:
    """A number without sign or word could be meant either way."""
    with pytest.raises(InputError) as refused:
        read_prediction(typed, find_test(test))
    assert said in str(refused.value)


@pytest.mark.parametrize("test", ["0-50", "top", "coast-40-15"])
@pytest.mark.parametrize("made", [Prediction(-0.3), Prediction(1.5, 0.25), Prediction(0.0, 0.1)])
def test_what_is_shown_reads_back(test: str, made: Prediction) -> None:
    """The words on the screen are words that can be typed."""
    found = find_test(test)
    assert read_prediction(prediction_words(made, found), found) == made
