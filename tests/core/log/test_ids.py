"""Ids: sortable by time, random at the end, and good file names."""

from __future__ import annotations

import random
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.clock import ManualClock
from core.log import is_id, new_id
from tests.core.log.samples import clock


def test_an_id_is_the_time_in_utc_and_a_tail() -> None:
    here = ManualClock(datetime.fromisoformat("2026-04-12T00:30:00+02:00"))
    head, tail = new_id(here).rsplit("-", 1)
    assert head == "20260411-223000"
    assert len(tail) >= 6
    assert set(tail) <= set("abcdefghijklmnopqrstuvwxyz234567")


def test_the_same_random_source_gives_the_same_ids() -> None:
    one, other = (random.Random(7) for _ in range(2))
    assert [new_id(clock(), one) for _ in range(5)] == [new_id(clock(), other) for _ in range(5)]


def test_ids_of_one_second_differ() -> None:
    assert len({new_id(clock()) for _ in range(1000)}) == 1000


@given(st.lists(st.integers(946_684_800, 4_102_444_800), max_size=20))
def test_ids_sort_as_their_times_do(seconds: list[int]) -> None:
    moments = [datetime.fromtimestamp(second, UTC) for second in sorted(seconds)]
    ids = [new_id(ManualClock(moment)) for moment in moments]
    assert [i[:15] for i in sorted(ids)] == [i[:15] for i in ids]
    assert all(is_id(i) for i in ids)


@pytest.mark.parametrize("text", ["a", "20260412-083000-k7x2m9", "moth", "com10", "x" * 100])
def test_good_file_names_are_ids(text: str) -> None:
    assert is_id(text)


@pytest.mark.parametrize(
    "text",
    ["", ".", "..", "../x", "a/b", "a\\b", "A", "a b", "-a", "a.b", "a\n", "ä", "nul", "x" * 101],
)
def test_names_that_some_system_takes_otherwise_are_not(text: str) -> None:
    assert not is_id(text)
