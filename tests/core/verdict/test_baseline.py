"""What a running session is held against."""

from __future__ import annotations

from pathlib import Path

from core.session import CloseOut, Plan, close, swap
from core.setup import Reading
from core.verdict.baseline import baseline_of
from tests.making import answered, new_book, ready_session, typed


def test_there_is_none_on_a_new_machine(tmp_path: Path) -> None:
    """Nor in a session without attempts before it."""
    book, clock = new_book(tmp_path)
    assert baseline_of(book, ready_session(book, clock)) is None


def test_first_the_partner_then_the_build_before_the_swap(tmp_path: Path) -> None:
    """With mean, range of single attempts, and what was changed."""
    book, clock = new_book(tmp_path)
    first = typed(ready_session(book, clock), clock, (7.65, 7.31, 7.59, 7.35))
    book.save(close(first, CloseOut(), clock()))
    clock.advance(minutes=60 * 24)
    again = ready_session(book, clock)
    assert baseline_of(book, again) is None  # another machine of the same name

    own = book.act(first, lambda s: s)
    reading = Reading(state="set", value=3000.0, text="3000", at=clock())
    swapped = answered(swap(own, {"planned_rpm": reading}, clock()), clock())
    found = baseline_of(book, swapped)
    assert found is not None
    assert (found.session, found.side.label, found.side.kind) == (first.id, "S01:A", "pair")
    assert found.side.values == ((7.65 + 7.31) / 2, (7.59 + 7.35) / 2)
    assert found.span == (7.31, 7.65)
    assert found.differs == ("planned max rpm",)


def test_of_several_builds_of_the_partner_the_nearest_one(tmp_path: Path) -> None:
    """And none of a session that ran another test."""
    book, clock = new_book(tmp_path)
    first = typed(ready_session(book, clock), clock, (7.65, 7.31))
    reading = Reading(state="set", value=3000.0, text="3000", at=clock())
    both = answered(swap(first, {"planned_rpm": reading}, clock()), clock())
    both = typed(both, clock, (7.02, 6.68))
    book.save(close(both, CloseOut(), clock()))
    clock.advance(minutes=60 * 24)
    plan_like = book.session("S01")
    later = book.start(Plan(machine=plan_like.machine, place=plan_like.place, test="0-50"))
    found = baseline_of(book, later)
    assert found is not None
    assert (found.side.build, found.differs) == ("B", ())
    other = book.start(Plan(machine=plan_like.machine, place=plan_like.place, test="40-65"))
    assert baseline_of(book, other) is None
