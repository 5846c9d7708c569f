"""What a picture of attempts shows, on sessions with known numbers."""

from __future__ import annotations

import msgspec
import pytest

from core.attempts import Strike
from core.report.attempt_pictures import attempts_picture, block_names
from core.report.pictures import Bar, Dot, Picture, PictureRow, bar_of, bar_words
from core.session import Session
from core.session.documents import SESSION_KIND, SessionHead
from core.stats import Spread, t_quantile
from core.verdict import Pool, pool_of, side_of
from tests.making import bare_session

S08 = "W7.50 E7.20 W7.59 E7.17 W7.98 E7.14 W7.47 E7.06"
S05 = (
    "W7.54 E7.15 W7.49 E7.14 W7.46 E7.04",
    "W8.34 E8.06 W8.54 E7.95 W8.53 E8.21",
    "W7.41 E7.15 W7.40 E7.31 W7.37 E7.23",
)
S66, S60 = {"final_sprocket_teeth": 66.0}, {"final_sprocket_teeth": 60.0}


def pool(*sessions: Session) -> Pool:
    """The repeatability of a log of these sessions."""
    made = [SESSION_KIND.make_head(s) for s in sessions if SESSION_KIND.make_head]
    heads = [head for head in made if isinstance(head, SessionHead)]
    return pool_of(heads, "m1", "0-50", "logger-10hz")


def labels(picture: Picture) -> list[str]:
    """Label and note of each row."""
    return [f"{row.label} {row.note}".strip() for row in picture.rows]


def test_one_build_has_a_row_for_each_direction_and_one_for_its_pairs() -> None:
    """With the means that the attempts have."""
    picture = attempts_picture(bare_session("S08", [S08]))
    assert labels(picture) == ["W ×4", "E ×4", "mean 4 pairs"]
    west, east, mean = picture.rows
    assert [dot.value for dot in west.dots] == [7.50, 7.59, 7.98, 7.47]
    assert [dot.attempts for dot in east.dots] == [(2,), (4,), (6,), (8,)]
    assert (west.said, east.said) == ("7.64", "7.14")
    assert mean.bar is not None
    assert mean.bar.middle == pytest.approx((7.635 + 7.1425) / 2)
    assert (mean.bar.low, mean.said) == (None, "7.39")


def test_the_range_is_that_of_a_mean_with_the_pooled_spread() -> None:
    """t times spread over the root of n, the session itself pooled in."""
    session = bare_session("S08", [S08])
    others = pool(bare_session("S01", [S05[0]], day=3))
    picture = attempts_picture(session, pool=others)
    spread = others.with_session(session).spread("pair")
    half = t_quantile(0.975, spread.dof) * spread.sd / 2.0
    bar = picture.rows[-1].bar
    assert bar is not None
    assert bar.high is not None
    assert bar.high - bar.middle == pytest.approx(half)
    assert picture.rows[-1].said == f"7.39 ±{half:.2f}"
    assert attempts_picture(session, pool=pool(session)) == attempts_picture(
        session, pool=pool().with_session(session)
    )


def test_a_build_that_returns_is_numbered() -> None:
    """A1, B, A2, each with its own rows."""
    session = bare_session("S05", S05, sheets=(S66, S60, S66))
    assert block_names(session) == ("A1", "B", "A2")
    picture = attempts_picture(session)
    assert labels(picture)[:4] == ["A1 W ×3", "A1 E ×3", "A1 3 pairs", "B W ×3"]
    assert [row.block for row in picture.rows] == ["A1"] * 3 + ["B"] * 3 + ["A2"] * 3


def test_a_sheet_that_has_not_run_takes_no_room() -> None:
    """After a swap, before the first attempt."""
    session = bare_session("S05", [S05[0], ""], sheets=(S66, S60))
    assert labels(attempts_picture(session)) == ["W ×3", "E ×3", "mean 3 pairs"]


def test_struck_and_odd_attempts_are_marked_and_only_struck_ones_do_not_count() -> None:
    """The mean is of those that count."""
    session = bare_session("S08", [S08])
    tries = tuple(
        msgspec.structs.replace(a, strike=Strike(code="LATE")) if a.n == 1 else a
        for a in session.attempts
    )
    picture = attempts_picture(msgspec.structs.replace(session, attempts=tries), odd={5})
    west = picture.rows[0]
    assert [dot.mark for dot in west.dots] == ["struck", "counts", "odd", "counts"]
    assert (west.note, west.said) == ("×3", "7.68")


def test_warm_ups_aborted_ones_and_other_tests_are_not_drawn() -> None:
    """They are no part of the series."""
    session = bare_session("S08", [S08])
    kinds: dict[int, dict[str, object]] = {
        1: {"kind": "warm-up"},
        2: {"kind": "aborted", "value": None},
        3: {"test": "40-65"},
    }
    tries = tuple(msgspec.structs.replace(a, **kinds.get(a.n, {})) for a in session.attempts)
    picture = attempts_picture(msgspec.structs.replace(session, attempts=tries))
    assert sorted(n for row in picture.rows for dot in row.dots for n in dot.attempts) == [
        4, 5, 6, 7, 8,
    ]  # fmt: skip
    other = attempts_picture(msgspec.structs.replace(session, attempts=tries), test="40-65")
    assert [dot.value for row in other.rows for dot in row.dots] == [7.59]


def test_what_it_is_held_against_stands_beside_it() -> None:
    """Unless it is in the picture already, or of another test."""
    session, other = bare_session("S08", [S08]), bare_session("S05", [S05[0]], day=3)
    against = side_of(other)
    beside = attempts_picture(session, against=against).rows[-1]
    assert (beside.label, beside.role, beside.note) == ("S05", "beside", "3 pairs")
    assert beside.bar is not None
    assert beside.bar.middle == pytest.approx(against.mean)
    assert attempts_picture(other, against=against) == attempts_picture(other)
    rolling = bare_session("S09", [S05[0]], test="40-65", day=9)
    assert attempts_picture(session, against=side_of(rolling)) == attempts_picture(session)


def test_places_without_directions_have_one_row() -> None:
    """And attempts are counted, not pairs."""
    session = bare_session("S02", ["7.50 7.20 7.59"], directions=())
    assert labels(attempts_picture(session)) == ["any way ×3", "mean 3 attempts"]


def test_words_only_and_nothing_yet_have_no_rows() -> None:
    """A plug reading, and an empty session."""
    assert attempts_picture(bare_session("P01", [], test="plug")).unit == ""
    empty = attempts_picture(bare_session("E01", []))
    assert (empty.rows, empty.unit, empty.span) == ((), "s", None)


def _row(*dots: Dot, bar: Bar | None = None) -> PictureRow:
    return PictureRow("W", "way", dots=dots, bar=bar)


def test_the_axis_holds_all_that_counts_and_struck_ones_that_are_near() -> None:
    """One far out does not squeeze the rest."""
    near, far = Dot(7.9, "struck", (3,)), Dot(13.1, "struck", (4,))
    picture = Picture((_row(Dot(7.2, "counts", (1,)), Dot(7.5, "odd", (2,)), near, far),), "s", 2)
    assert picture.span == pytest.approx((7.2, 7.9))
    assert picture.off_scale == (far,)
    only = Picture((_row(far),), "s", 2)
    assert only.span == pytest.approx((13.05, 13.15))
    assert only.off_scale == ()


def test_the_axis_of_a_difference_holds_zero_and_the_gain() -> None:
    """Wherever the difference lies."""
    bar = Bar(-1.19, -1.42, -0.96)
    picture = Picture((_row(bar=bar),), "s", 2, is_difference=True, gain=0.15)
    assert picture.span == pytest.approx((-1.42, 0.15))
    assert Picture((), "s", 2, is_difference=True, gain=0.15).span is None


def test_a_bar_needs_a_mean_and_says_its_range() -> None:
    """No mean, no bar; no spread, no range."""
    spread = Spread(0.1, 10.0, 6.0)
    assert bar_of(None, 0, spread) is None
    assert bar_words(bar_of(7.392, 4, spread), 2) == "7.39 ±0.11"
    assert bar_words(bar_of(7.392, 4, None), 2) == "7.39"
    assert bar_words(None, 2) == ""
