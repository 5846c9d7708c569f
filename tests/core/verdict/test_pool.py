"""Repeatability of a whole log at once against the same, session by session."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.attempts import Attempt, Strike, counted, direction_centred, observations
from core.attempts.pairs import couples
from core.errors import InputError
from core.session import Session, SessionHead
from core.stats import SumOfSquares, day_spread, two_way_within, within
from core.verdict import DAY_PRIOR_DOF, DAY_PRIOR_SHARE, Pool, pool_of

START = datetime(2026, 4, 12, 8, 0, tzinfo=UTC)
KEY = ("m1", "0-50", "hand")


def _attempt(rng: random.Random, n: int) -> Attempt:
    return Attempt(
        n=n,
        sheet=rng.choice((0, 0, 0, 1)),
        kind=rng.choice(("timed",) * 8 + ("warm-up",)),
        value=round(rng.gauss(8.0, 0.3), 2),
        direction=rng.choice(("W", "E", "W", "E", "")),
        test=rng.choice(("", "", "", "0-50", "40-65")),
        timing=rng.choice(("", "", "", "hand", "gates")),
        strike=Strike(code="LATE") if rng.random() < 0.1 else None,
    )


def made_log(seed: int, count: int) -> list[SessionHead]:
    """Heads of sessions of every shape: two-way, one-way, several sheets, strikes, other gear."""
    rng = random.Random(seed)
    return [
        SessionHead(
            id=f"s{i}",
            label=f"S{i}",
            machine=rng.choice(("m1", "m1", "m2")),
            started=START + timedelta(days=rng.randrange(6)),
            test=rng.choice(("0-50", "0-50", "40-65")),
            timing=rng.choice(("hand", "hand", "gates")),
            place=rng.choice(("p1", "p2")),
            directions=rng.choice((("W", "E"), ("W", "E"), ())),
            attempts=tuple(_attempt(rng, n) for n in range(1, rng.randrange(1, 9))),
            builds=("k1", rng.choice(("k1", "k2"))),
        )
        for i in range(count)
    ]


def by_session(heads: Iterable[SessionHead]) -> dict[str, object]:
    """The same sums, one session and one sheet after the other, from the attempts' own rules."""
    single = pair = one_way = SumOfSquares()
    seen_values: list[float] = []
    repeats: dict[tuple[str, str, str], dict[str, list[float]]] = {}
    for head in heads:
        mine = counted(head.attempts, KEY[1], head.test)
        mine = tuple(a for a in mine if (a.timing or head.timing) == KEY[2])
        for sheet in sorted({a.sheet for a in mine if head.machine == KEY[0]}):
            block = [a for a in mine if a.sheet == sheet]
            seen = observations(block, two_way=len(head.directions) == 2)
            if seen.direction_unknown:
                continue
            centred = direction_centred(block)
            about = two_way_within(centred.values, centred.groups)
            single += about
            if seen.kind == "pair":
                pair += within([seen.values])
            else:
                one_way += about
            seen_values += seen.values
            key = (head.builds[sheet], head.place, seen.kind)
            day = head.started.date().isoformat()
            repeats.setdefault(key, {}).setdefault(day, []).extend(seen.values)
    days = [
        [(sum(v) / len(v), len(v)) for v in build.values()]
        for build in repeats.values()
        if len(build) > 1
    ]
    return {"single": single, "pair": pair, "one_way": one_way, "seen": seen_values, "days": days}


def assert_same(pool: Pool, sums: dict[str, object]) -> None:
    """The pool says what the plain sums do."""
    for name in ("single", "pair", "one_way"):
        found, plain = getattr(pool, name), sums[name]
        assert isinstance(plain, SumOfSquares)
        assert found.ss == pytest.approx(plain.ss, rel=1e-9, abs=1e-12), name
        assert found.dof == plain.dof, name
    seen = sums["seen"]
    assert isinstance(seen, list)
    if not seen:
        assert pool.typical is None
        return
    assert pool.typical is not None
    assert pool.typical == pytest.approx(math.fsum(seen) / len(seen), rel=1e-12)
    days = sums["days"]
    assert isinstance(days, list)
    noise = pool.spread("pair").sd ** 2
    plain_day = day_spread(days, noise, DAY_PRIOR_SHARE * pool.typical, DAY_PRIOR_DOF)
    assert pool.day("pair").sd == pytest.approx(plain_day.sd, rel=1e-9)
    assert pool.day("pair").own_dof == plain_day.own_dof


@given(seed=st.integers(0, 10_000), count=st.integers(0, 25))
@settings(max_examples=60, deadline=None)
def test_all_at_once_is_session_by_session(seed: int, count: int) -> None:
    """Columns summed at once give what each session's own sums give together."""
    heads = made_log(seed, count)
    assert_same(pool_of(heads, *KEY), by_session(heads))


@given(seed=st.integers(0, 10_000))
@settings(max_examples=30, deadline=None)
def test_leaving_a_session_out_is_never_having_had_it(seed: int) -> None:
    """Left out before or after, or looked at from its own side: the same."""
    heads = made_log(seed, 12)
    others = [head for head in heads if head.id != "s3"]
    assert_same(pool_of(heads, *KEY).without("s3"), by_session(others))
    assert_same(pool_of(heads, *KEY, leave_out="s3"), by_session(others))


def _running(head: SessionHead) -> Session:
    """A session with the attempts of a head; its sheets are empty, so its build is its own."""
    return Session(
        id=head.id,
        label=head.label,
        machine=head.machine,
        started=head.started,
        test=head.test,
        timing=head.timing,
        place=head.place,
        directions=head.directions,
        attempts=head.attempts,
    )


@given(seed=st.integers(0, 10_000))
@settings(max_examples=30, deadline=None)
def test_a_running_session_counts_as_it_stands(seed: int) -> None:
    """With a session added, whether the log held an older state of it or not."""
    heads = made_log(seed, 12)
    now = next((head for head in heads if head.machine == "m1"), heads[0])
    session = _running(now)
    others = pool_of(heads, "m1", *KEY[1:], leave_out=now.id)
    whole = by_session(heads) if now.machine == "m1" else None
    for pool in (others.with_session(session), pool_of(heads, *KEY).with_session(session)):
        if whole is not None:
            for name in ("single", "pair", "one_way"):
                expected = whole[name]
                assert isinstance(expected, SumOfSquares)
                assert getattr(pool, name).ss == pytest.approx(expected.ss, rel=1e-9, abs=1e-12)


def test_an_empty_log_says_what_is_usual() -> None:
    """Without any session only the prior speaks."""
    pool = pool_of([], *KEY)
    assert (pool.sessions, pool.typical, pool.spread("pair").own_dof) == (0, None, 0)
    assert pool.day("pair").own_dof == 0


def test_a_value_that_is_no_number_is_refused() -> None:
    """It cannot come from a file, but nothing is ever worked out from it."""
    head = made_log(1, 1)[0]
    bad = SessionHead(
        id="bad",
        label="bad",
        machine="m1",
        started=START,
        test="0-50",
        timing="hand",
        directions=("W", "E"),
        attempts=(
            Attempt(n=1, value=math.nan, direction="W"),
            Attempt(n=2, value=8.0, direction="W"),
        ),
        builds=("k1",),
    )
    with pytest.raises(InputError, match="finite"):
        pool_of([head, bad], *KEY)


def test_couples_are_found_from_the_first_attempt_on() -> None:
    """Each attempt is in one pair at most, and an unknown direction pairs with nothing."""
    assert couples(["W", "E", "W", "E"]) == [0, 2]
    assert couples(["W", "W", "E", "W"]) == [1]
    assert couples(["W", "", "E"]) == []
    assert couples([]) == []
