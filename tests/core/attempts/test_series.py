"""A series summed up: with and without strikes, by direction, tags, trend, two timers."""

from __future__ import annotations

import pytest

from core.attempts import Attempt, Strike, find_test, sum_up, trend_of, two_timers

TEST = find_test("0-50")
TOP = find_test("top")


def attempts(*values: float, way: str = "WE") -> list[Attempt]:
    return [
        Attempt(n=i + 1, value=v, direction=way[i % 2] if way else "") for i, v in enumerate(values)
    ]


DAY = attempts(8.81, 8.33, 8.59, 8.00, 8.62, 7.96, 8.71, 8.13)


def test_the_baseline_day_summed_up() -> None:
    found = sum_up(DAY, TEST, "0-50")
    assert found.numbers.n == 8
    assert found.numbers.mean == pytest.approx(8.39375)
    assert found.numbers.best == 7.96
    assert dict(found.by_direction)["W"].mean == pytest.approx(8.6825)
    assert dict(found.by_direction)["E"].mean == pytest.approx(8.105)
    assert found.pairs.n == 4
    assert found.pairs.mean == pytest.approx(8.39375)
    assert round(found.pairs.sd or 0, 2) == 0.13
    assert found.with_struck is None
    assert found.sentence.startswith("8 attempts, mean 8.39 s")


def test_results_with_and_without_strikes_are_both_there() -> None:
    day = [*attempts(7.3, 7.1), Attempt(n=3, value=13.1, strike=Strike(code="CHAIN"))]
    found = sum_up(day, TEST, "0-50")
    assert found.numbers.mean == pytest.approx(7.2)
    assert found.with_struck is not None
    assert found.with_struck.mean == pytest.approx((7.3 + 7.1 + 13.1) / 3)
    assert found.struck == 1
    assert "1 struck" in found.sentence


def test_struck_everything_is_a_sentence_and_no_number() -> None:
    day = [Attempt(n=i, value=7.3, strike=Strike(code="LATE")) for i in (1, 2)]
    found = sum_up(day, TEST, "0-50")
    assert found.sentence == "All attempts are struck: nothing to compare."
    assert found.numbers.mean is None
    assert found.numbers.sd is None


@pytest.mark.parametrize(
    ("day", "sentence"),
    [
        ([], "No attempts yet."),
        ([Attempt(n=1, kind="aborted")], "No timed attempt yet."),
        ([Attempt(n=1, value=7.26)], "One attempt, 7.26 s: no range from one."),
    ],
)
def test_few_attempts_get_an_honest_sentence(day: list[Attempt], sentence: str) -> None:
    found = sum_up(day, TEST, "0-50")
    assert found.sentence == sentence
    assert found.numbers.sd is None
    assert found.trend is None


def test_two_attempts_have_a_scatter() -> None:
    assert sum_up(attempts(7.2, 7.4, way=""), TEST, "0-50").numbers.sd == pytest.approx(
        0.2 / 2**0.5
    )


def test_equal_times_have_no_scatter_and_break_nothing() -> None:
    found = sum_up(attempts(*[7.3] * 8), TEST, "0-50")
    assert found.numbers.sd == 0
    assert found.trend is not None
    assert found.trend.change == 0
    assert found.trend.per_attempt == 0


def test_tags_are_counted_and_stay_in_the_numbers() -> None:
    day = attempts(7.3, 7.1, 7.4, 7.2, 7.3, 7.1, 7.9, 7.2)
    tagged = [
        Attempt(n=a.n, value=a.value, direction=a.direction, tags=("BOG",) if a.n <= 3 else ())
        for a in day
    ]
    found = sum_up(tagged, TEST, "0-50")
    assert [t.words for t in found.tags] == ["bogged 3 of 8"]
    assert found.numbers.n == 8


def test_warm_ups_and_aborted_attempts_are_counted_apart() -> None:
    day = [
        Attempt(n=1, value=9.9, kind="warm-up"),
        Attempt(n=2, value=9.5, kind="warm-up"),
        Attempt(n=3, kind="aborted"),
        Attempt(n=4, value=7.3),
        Attempt(n=5, value=77.0, test="top"),
    ]
    found = sum_up(day, TEST, "0-50")
    assert (found.warm_ups, found.aborted, found.numbers.n, found.struck) == (2, 1, 1, 0)
    assert sum_up(day, TOP, "0-50").numbers.best == 77.0


def test_best_is_the_highest_where_higher_is_better() -> None:
    assert sum_up(attempts(76.2, 77.4), TOP, "top").numbers.best == 77.4


def test_a_trend_is_found_whatever_the_directions_do() -> None:
    day = attempts(*(7.3 + (0.4 if i % 2 else 0.0) + 0.01 * (i // 2) for i in range(12)))
    trend = trend_of(day)
    assert trend is not None
    # six pairs a step of 0.01 s apart: the last two pairs are 0.04 s above the first two
    assert trend.change == pytest.approx(0.04)
    assert trend.per_attempt == pytest.approx(0.005, rel=0.1)
    assert trend_of(day[:5]) is None


def test_two_timers_show_bias_and_scatter_of_the_difference() -> None:
    day = [Attempt(n=i, value=v, second=s) for i, (v, s) in enumerate([(7.2, 7.4), (7.3, 7.4)], 1)]
    found = two_timers([*day, Attempt(n=3, value=7.3)])
    assert found is not None
    assert (found.n, round(found.bias, 6)) == (2, 0.15)
    assert found.sd == pytest.approx(0.1 / 2**0.5)
    assert two_timers([Attempt(n=1, value=7.3)]) is None
    one = two_timers(day[:1])
    assert one is not None
    assert one.sd is None
