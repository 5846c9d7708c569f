"""Which attempts count, how they pair, and what a verdict would rest on."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.attempts import (
    Attempt,
    AttemptKind,
    Strike,
    counted,
    direction_centred,
    observations,
    pairs,
)
from core.units import format_number

NOON = datetime(2026, 4, 12, 12, tzinfo=UTC)


def day(text: str) -> tuple[Attempt, ...]:
    """Build attempts from words such as ``W8.81``; ``x`` in front strikes, ``|`` swaps sheets."""
    attempts: list[Attempt] = []
    sheet = 0
    for word in text.split():
        if word == "|":
            sheet += 1
            continue
        struck, plain = word.startswith("x"), word.lstrip("x")
        n = len(attempts) + 1
        attempts.append(
            Attempt(
                n=n,
                sheet=sheet,
                direction=plain.rstrip("0123456789."),
                value=float(plain.lstrip("WEoutbackNS")),
                strike=Strike(code="CHAIN") if struck else None,
                at=NOON + timedelta(minutes=4 * n),
            )
        )
    return tuple(attempts)


# An invented season; pair means as a person would work them out on paper.
BASELINE = day("W8.81 E8.33 W8.59 E8.00 W8.62 E7.96 W8.71 E8.13")
LANE = day("out9.69 back9.37 out9.52 back9.47 out9.62 back9.42")
SWAPS = day(
    "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04 | W8.34 E8.06 W8.54 E7.95 W8.53 E8.21"
    " | W7.41 E7.15 W7.40 E7.31 W7.37 E7.23"
)
CHAIN_OFF = day("out9.75 back9.53 out9.32 back9.34 out9.59 back9.34 xout13.10 out9.65 back9.65")
ROCKERS = day("W7.50 E7.20 W7.59 E7.17 W7.98 E7.14 W7.47 E7.06")


def mean(values: tuple[float, ...]) -> float:
    """Mean as it is written on paper: two decimals, halves up."""
    return float(format_number(sum(values) / len(values), 2))


def test_the_baseline_day_is_the_mean_of_four_pairs() -> None:
    found = observations(BASELINE, two_way=True)
    assert found.kind == "pair"
    assert found.attempts == ((1, 2), (3, 4), (5, 6), (7, 8))
    assert found.values == pytest.approx((8.57, 8.295, 8.29, 8.42))
    assert mean(found.values) == 8.39
    assert max(found.values) == found.values[0]


def test_the_lane_day_is_the_mean_of_three_pairs() -> None:
    found = observations(LANE, two_way=True)
    assert (len(found.values), mean(found.values)) == (3, 9.52)


def test_a_day_of_swaps_is_kept_apart_by_sheet() -> None:
    found = observations(SWAPS, two_way=True)
    assert found.sheets == (0, 0, 0, 1, 1, 1, 2, 2, 2)
    assert [mean(found.block(sheet)) for sheet in (0, 1, 2)] == [7.30, 8.27, 7.31]
    assert found.block(3) == ()


def test_the_attempt_with_the_lost_chain_is_left_out_and_four_pairs_remain() -> None:
    found = observations(CHAIN_OFF, two_way=True)
    assert found.attempts == ((1, 2), (3, 4), (5, 6), (8, 9))
    assert mean(found.values) == 9.52
    assert found.left_over == ()


def test_an_odd_attempt_stays_in_its_pair() -> None:
    found = observations(ROCKERS, two_way=True)
    assert mean(found.values) == 7.39
    assert (5, 6) in found.attempts


def test_the_two_around_a_struck_one_can_be_a_pair() -> None:
    found, alone = pairs(day("W7.5 xE7.1 E7.2 W7.4"))
    assert [(p.first.n, p.second.n) for p in found] == [(1, 3)]
    assert [a.n for a in alone] == [4]
    assert found[0].mean == pytest.approx(7.35)


def test_no_pair_reaches_across_a_swap() -> None:
    found, alone = pairs(day("W7.5 | E7.1 W7.4"))
    assert [(p.first.n, p.second.n) for p in found] == [(2, 3)]
    assert [a.n for a in alone] == [1]


def test_neighbours_that_ran_the_same_way_are_no_pair() -> None:
    found, alone = pairs(day("W7.5 W7.4 E7.1"))
    assert [(p.first.n, p.second.n) for p in found] == [(2, 3)]
    assert [a.n for a in alone] == [1]


def test_a_pair_happened_half_way_between_its_attempts() -> None:
    found = observations(BASELINE, two_way=True)
    assert found.times[0] == NOON + timedelta(minutes=6)
    late = observations([Attempt(n=1, value=7.3, direction="W"), *day("E7.1")], two_way=True)
    assert late.times == (None,)


def test_a_one_way_place_gives_single_attempts() -> None:
    found = observations(day("9.1 9.2 9.3"), two_way=False)
    assert (found.kind, found.values, found.attempts) == (
        "attempt",
        (9.1, 9.2, 9.3),
        ((1,), (2,), (3,)),
    )
    assert not found.direction_unknown
    assert found.one_direction == ""
    assert not found.unpaired


def test_directions_missing_at_a_two_way_place_are_said() -> None:
    found = observations(day("7.1 7.2 W7.3"), two_way=True)
    assert (found.kind, len(found.values), found.direction_unknown) == ("attempt", 3, True)
    assert found.one_direction == ""


def test_all_one_way_at_a_two_way_place_is_said() -> None:
    found = observations(day("E7.1 E7.2 E7.3"), two_way=True)
    assert (found.kind, found.one_direction, found.direction_unknown) == ("attempt", "E", False)


def test_both_ways_but_never_one_after_the_other_is_said() -> None:
    found = observations(day("W7.1 W7.2 | E7.3 E7.4"), two_way=True)
    assert (found.kind, found.unpaired, found.one_direction) == ("attempt", True, "")


def test_nothing_at_all_gives_nothing() -> None:
    for attempts in ((), day("xW7.1 xE7.2")):
        found = observations(attempts, two_way=True)
        assert (found.values, found.left_over, found.one_direction) == ((), (), "")


def test_only_timed_attempts_of_the_test_count() -> None:
    kinds: tuple[AttemptKind, ...] = ("timed", "warm-up", "aborted")
    attempts = [
        *(Attempt(n=i, value=7.3, kind=k) for i, k in enumerate(kinds, 1)),
        Attempt(n=4, value=7.3, strike=Strike(code="LATE")),
        Attempt(n=5),
        Attempt(n=6, value=77.0, test="top"),
        Attempt(n=7, value=7.4, test="0-50", tags=("BOG",), unsure=True),
    ]
    assert [a.n for a in counted(attempts, "0-50", "0-50")] == [1, 7]
    assert [a.n for a in counted(attempts, "top", "0-50")] == [6]


def test_centring_takes_off_direction_and_sheet() -> None:
    found = direction_centred(SWAPS)
    assert sum(found.centred) == pytest.approx(0, abs=1e-9)
    assert max(abs(v) for v in found.centred) < 0.2  # 0.4 s between directions, 1 s between builds
    assert len(set(found.groups)) == 6
    assert found.attempts == tuple(range(1, 19))
    assert found.values[0] == 7.54


KINDS: tuple[AttemptKind, ...] = ("timed", "timed", "timed", "warm-up", "aborted")

attempt_lists = st.lists(
    st.tuples(
        st.sampled_from(["W", "E", ""]),
        st.sampled_from(KINDS),
        st.booleans(),
        st.integers(0, 2),
        st.floats(5, 10),
    ),
    max_size=20,
).map(
    lambda rows: tuple(
        Attempt(
            n=n,
            direction=way,
            kind=kind,
            strike=Strike(code="LATE") if struck else None,
            sheet=sheet,
            value=value,
        )
        for n, (way, kind, struck, sheet, value) in enumerate(rows, 1)
    )
)


@given(attempt_lists)
def test_pairs_and_left_overs_are_exactly_the_attempts_that_count(
    attempts: tuple[Attempt, ...],
) -> None:
    found, alone = pairs(attempts)
    used = [a.n for p in found for a in (p.first, p.second)] + [a.n for a in alone]
    good = [a.n for a in attempts if a.kind == "timed" and a.strike is None]
    assert sorted(used) == good
    for pair in found:
        assert {pair.first.direction, pair.second.direction} == {"W", "E"}
        assert pair.first.sheet == pair.second.sheet
        assert pair.first.value is not None
        assert pair.second.value is not None
        assert min(pair.first.value, pair.second.value) <= pair.mean + 1e-12
        assert pair.mean - 1e-12 <= max(pair.first.value, pair.second.value)


@given(attempt_lists)
def test_what_is_left_over_could_not_have_paired_with_its_neighbour(
    attempts: tuple[Attempt, ...],
) -> None:
    _, alone = pairs(attempts)
    good = sorted(
        (a for a in attempts if a.kind == "timed" and not a.strike), key=lambda a: a.sheet
    )
    for first, second in pairwise(good):
        if first in alone and second in alone:
            ways = {first.direction, second.direction}
            assert first.sheet != second.sheet or ways != {"W", "E"}


@given(attempt_lists, st.booleans())
def test_struck_and_warm_up_attempts_change_nothing(
    attempts: tuple[Attempt, ...], two_way: bool
) -> None:
    good = tuple(a for a in attempts if a.kind == "timed" and a.strike is None)
    assert observations(attempts, two_way) == observations(good, two_way)
    found = observations(attempts, two_way)
    behind = sorted(n for numbers in found.attempts for n in numbers)
    assert sorted((*behind, *found.left_over)) == [a.n for a in good]
