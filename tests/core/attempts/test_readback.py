"""What a helper reads back aloud."""

from __future__ import annotations

import pytest

from core.attempts import Attempt, digits_aloud, direction_words, find_test, read_back

TEST = find_test("0-50")


@pytest.mark.parametrize(
    ("attempt", "test", "words"),
    [
        (Attempt(n=1, value=7.26, direction="W"), "0-50", "seven two six, west"),
        (Attempt(n=1, value=7.2, direction="back"), "0-50", "seven two zero, back"),
        (Attempt(n=1, value=77.1), "top", "seven seven one"),
        (Attempt(n=1, value=7.263), "0-50", "seven point two six three"),
        (Attempt(n=1, value=75.639168), "top", "seven five point six four"),  # 47 mph
        (
            Attempt(n=1, value=7.26, tags=("BOG",), unsure=True),
            "0-50",
            "seven two six, bogged, not sure",
        ),
        (Attempt(n=1, kind="aborted", direction="E"), "0-50", "aborted, east"),
        (Attempt(n=1, value=9.9, kind="warm-up"), "0-50", "nine nine zero, warm-up"),
    ],
)
def test_read_back(attempt: Attempt, test: str, words: str) -> None:
    assert read_back(attempt, find_test(test)) == words


def test_digits_are_single_words() -> None:
    assert digits_aloud("1390") == "one three nine zero"


def test_directions_are_whole_words() -> None:
    assert [direction_words(n) for n in ("NW", "S", "up")] == ["north west", "south", "up"]
