"""Touching slots, swaps, checks, and what a new session takes over from the last one."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.attempts import AirReading
from core.checks import current_checks, open_stops
from core.errors import BlockedError, InputError, NotFoundError
from core.session import (
    Book,
    CloseOut,
    Plan,
    Session,
    answer_check,
    check_record,
    close,
    enter,
    fill,
    merged,
    note_air,
    open_check_again,
    predict,
    put_on,
    something_happened,
    swap,
    swap_to,
    touch,
)
from core.setup import Part, Reading, build_letters, derived_value, known_value
from tests.making import answered, new_book, ready_session, typed

ROCKERS = {"rockers": "Thistle 1.25", "rocker_ratio": "1.25"}


def _put(book: Book, session: Session, told: dict[str, str]) -> Session:
    now = session.sheets[-1].readings
    return put_on(
        book,
        session,
        merged(tuple(fill(book, session.machine, now, s, t) for s, t in told.items())),
    )


def _next(book: Book, session: Session) -> Session:
    return book.start(Plan(machine=session.machine, test="0-50", place=session.place))


def _due(session: Session) -> set[str]:
    counted = current_checks(session.checks, len(session.sheets) - 1)
    return {c.rule for c in counted if c.slots}


def test_a_new_session_copies_the_last_sheet_and_says_where_from(tmp_path: Path) -> None:
    """Nothing is typed twice, and every value tells that it was carried over."""
    book, clock = new_book(tmp_path)
    first = _put(book, ready_session(book, clock), {"bore": "70", "rockers": "Stock 1.0"})
    clock.advance(minutes=60)
    second = _next(book, first)
    assert second.came_from == first.id
    assert known_value(second.sheets[0].readings["bore"]) == 70.0
    assert {r.carried for r in second.sheets[0].readings.values()} == {first.id}
    assert _due(second) == set()


def test_a_rocker_change_brings_its_own_checks(tmp_path: Path) -> None:
    """Clay, spring margin, retainers, pushrod rub, cover and lash come due; a jet's do not."""
    book, clock = new_book(tmp_path)
    first = _put(book, ready_session(book, clock), {"rockers": "Stock 1.0", "rocker_ratio": "1.0"})
    clock.advance(minutes=60)
    changed = _put(book, _next(book, first), ROCKERS)
    due = _due(changed)
    assert {"valve_to_piston", "spring_margin", "retainer_margin", "pushrod_rub", "lash"} <= due
    assert "plug_run" not in due


def test_a_check_comes_due_again_when_its_slot_changes_again(tmp_path: Path) -> None:
    """A result is for what was measured, not for what came after."""
    book, clock = new_book(tmp_path)
    first = _put(book, ready_session(book, clock), {"engagement_rpm": "2100"})
    clock.advance(minutes=60)
    session = _put(book, _next(book, first), {"engagement_rpm": "2900"})
    session = answer_check(session, "engagement", "2900", clock()).session
    assert check_record(session, "engagement").answer == "cleared"
    session = _put(book, session, {"engagement_rpm": "3000"})
    assert check_record(session, "engagement").answer == "open"


def test_going_back_drops_the_check_nobody_answered(tmp_path: Path) -> None:
    """A change that was taken back asks for nothing."""
    book, clock = new_book(tmp_path)
    first = _put(book, ready_session(book, clock), {"engagement_rpm": "2100"})
    clock.advance(minutes=60)
    session = _put(book, _next(book, first), {"engagement_rpm": "2900"})
    assert "engagement" in _due(session)
    assert "engagement" not in _due(_put(book, session, {"engagement_rpm": "2100"}))


def test_checks_left_open_are_still_due_next_time(tmp_path: Path) -> None:
    """Closing a session at the bench does not clear what the change asked for."""
    book, clock = new_book(tmp_path)
    first = _put(book, ready_session(book, clock), {"rockers": "Stock 1.0", "rocker_ratio": "1.0"})
    clock.advance(minutes=60)
    bench = _put(book, _next(book, first), ROCKERS)
    book.save(close(bench, CloseOut(), clock()))
    clock.advance(minutes=60)
    after = _next(book, bench)
    clay = check_record(after, "valve_to_piston")
    assert clay.answer == "open"
    assert clay.event == "left open last time"
    touched = _put(book, after, {"idle_rpm": "1500"})
    assert check_record(touched, "valve_to_piston").answer == "open"


def test_what_a_check_measured_goes_on_the_sheet(tmp_path: Path) -> None:
    """Lash and clay are typed once; the lift follows, and nothing new is asked for them."""
    book, clock = new_book(tmp_path)
    stock = {
        "rockers": "Stock 1.0",
        "rocker_ratio": "1.0",
        "lobe_lift_intake": "5.8",
        "lash_intake": "0.10",
        "lash_exhaust": "0.15",
    }
    first = _put(book, ready_session(book, clock), stock)
    clock.advance(minutes=60)
    session = _put(book, _next(book, first), ROCKERS)
    assert derived_value(session.sheets[0], "valve_lift_intake").value is None
    session = answer_check(session, "lash_lock_nuts", "done", clock()).session
    session = answer_check(session, "lash", "0.12 0.17", clock()).session
    session = answer_check(session, "valve_to_piston", "3.1 2.6 of 4", clock()).session
    now = session.sheets[0].readings
    assert known_value(now["lash_exhaust"]) == 0.17
    assert known_value(now["valve_gap_exhaust"]) == 2.6
    lift = derived_value(session.sheets[0], "valve_lift_intake").value
    assert lift == pytest.approx(5.8 * 1.25 - 0.12)
    session = _put(book, session, {"idle_rpm": "1500"})
    assert check_record(session, "lash_lock_nuts").answer == "cleared"
    assert check_record(session, "lash").answer == "cleared"


def test_a_machine_that_stood_is_walked_round(tmp_path: Path) -> None:
    """More than 60 days since it last ran: fuel age, throttle, brake and the whole walk-round."""
    book, clock = new_book(tmp_path)
    first = _put(book, ready_session(book, clock), {"bore": "70"})
    clock.advance(minutes=61 * 24 * 60)
    asked = {c.rule for c in _next(book, first).checks if c.event == "stood"}
    assert {"walk_round", "fuel_age"} <= asked


def test_lash_set_hot_is_said(tmp_path: Path) -> None:
    """The session knows when the engine last ran."""
    book, clock = new_book(tmp_path)
    stock = {"rockers": "Stock 1.0", "rocker_ratio": "1.0"}
    session = typed(_put(book, ready_session(book, clock), stock), clock, [8.0])
    many = tuple(fill(book, session.machine, {}, s, t) for s, t in ROCKERS.items())
    session = swap_to(book, session, merged(many))
    done = answer_check(session, "lash", "0.1 0.15", clock.advance(minutes=30))
    assert done.warning == "The engine ran 30 min ago: this is not the cold lash yet."


def test_geometry_cleared_before_comes_back_by_reference(tmp_path: Path) -> None:
    """A, B, A on one day: the clay of the first A holds, its lash does not."""
    book, clock = new_book(tmp_path)
    stock = {"rockers": "Stock 1.0", "rocker_ratio": "1.0"}
    first = _put(book, ready_session(book, clock), stock)
    clock.advance(minutes=60)
    second = _put(book, _next(book, first), ROCKERS)
    second = answered(second, clock())
    book.save(second)
    second = typed(second, clock, [8.0, 8.1])
    now = second.sheets[-1].readings
    for told in (stock, ROCKERS):
        many = tuple(fill(book, second.machine, now, s, t) for s, t in told.items())
        clock.advance(minutes=10)
        second = swap_to(book, second, merged(many))
        now = second.sheets[-1].readings
    clay = check_record(second, "valve_to_piston")
    assert (clay.answer, clay.by_reference) == ("cleared", second.id)
    assert check_record(second, "lash").answer == "open"


def test_slots_are_not_touched_under_attempts_that_ran(tmp_path: Path) -> None:
    """What ran stays as it ran: it has to be a swap."""
    book, clock = new_book(tmp_path)
    session = typed(ready_session(book, clock), clock, [8.0])
    reading = Reading(state="set", value=1500.0, text="1500")
    with pytest.raises(BlockedError, match="already ran"):
        touch(session, {"idle_rpm": reading}, clock())
    assert len(swap(session, {"idle_rpm": reading}, clock()).sheets) == 2


def test_a_swap_of_nothing_is_refused(tmp_path: Path) -> None:
    """The same sheet again is no swap."""
    book, clock = new_book(tmp_path)
    with pytest.raises(InputError, match="Nothing differs"):
        swap(ready_session(book, clock), {}, clock())


def test_an_answer_is_taken_back(tmp_path: Path) -> None:
    """A check can be opened again, and stops the next attempt then."""
    book, clock = new_book(tmp_path)
    session = ready_session(book, clock)
    assert not open_stops(session.checks, 0)
    again = open_check_again(session, "brake_holds", clock()).session
    assert [c.rule for c in open_stops(again.checks, 0)] == ["brake_holds"]
    with pytest.raises(NotFoundError, match="is not due"):
        answer_check(session, "valve_to_piston", "3 3", clock())


def test_a_fall_opens_its_checks(tmp_path: Path) -> None:
    """What happened to the machine asks again, without any change."""
    book, clock = new_book(tmp_path)
    after = something_happened(ready_session(book, clock), "fall", clock())
    assert open_stops(after.checks, 0)
    assert after.trail[-1].words == "after the fall"


def test_a_part_on_another_machine_is_asked_about(tmp_path: Path) -> None:
    """Nothing is fitted until the question is answered; moved takes it off the other one."""
    book, clock = new_book(tmp_path)
    session = _put(book, ready_session(book, clock), {"final_sprocket": "63T"})
    other = book.add_machine("Low Badger", "kart")
    kart = book.start(Plan(machine=other.id, test="80m"))
    asked = fill(book, other.id, {}, "final_sprocket", "63T")
    assert asked.two_machines is not None
    assert asked.readings == {}
    assert "is on Kettle Moth" in asked.two_machines.question
    moved = fill(book, other.id, {}, "final_sprocket", "63T", answer="moved")
    kart = put_on(book, kart, moved)
    part = book.log.get(Part, kart.sheets[0].readings["final_sprocket"].part)
    assert part.machine == other.id
    assert session.sheets[0].readings["final_sprocket"].part == part.id
    second = fill(book, session.machine, {}, "final_sprocket", "63T", answer="second")
    assert second.readings["final_sprocket"].part != part.id
    mistake = fill(book, session.machine, {}, "final_sprocket", "63T", answer="mistake")
    assert mistake.readings == {}


@pytest.mark.parametrize(
    ("slot", "typed_teeth"), [("final_sprocket_teeth", "52"), ("final_sprocket", "52")]
)
def test_other_teeth_are_another_sprocket(tmp_path: Path, slot: str, typed_teeth: str) -> None:
    """A swap told by its teeth is a new build, with the chain checks first."""
    book, clock = new_book(tmp_path)
    session = _put(book, ready_session(book, clock), {"final_sprocket": "60"})
    assert session.sheets[-1].readings["final_sprocket"].text == "60T"
    session = typed(answered(session, clock()), clock, [7.3, 7.2])
    told = fill(book, session.machine, session.sheets[-1].readings, slot, typed_teeth)
    session = swap_to(book, session, told)
    assert build_letters(session.sheets) == ("A", "B")
    assert known_value(session.sheets[-1].readings["final_sprocket_teeth"]) == 52.0
    assert {"teeth_final", "chain_slack"} <= _due(session)
    with pytest.raises(BlockedError):
        enter(session, clock(), value=7.0)


def test_the_same_teeth_are_only_noted(tmp_path: Path) -> None:
    """Counting them again changes nothing."""
    book, clock = new_book(tmp_path)
    session = _put(book, ready_session(book, clock), {"final_sprocket": "60T"})
    told = fill(book, session.machine, session.sheets[-1].readings, "final_sprocket_teeth", "60")
    assert "final_sprocket" not in told.readings
    assert told.parts == ()


def test_the_part_that_comes_off_goes_to_the_shelf(tmp_path: Path) -> None:
    """One slot holds one part."""
    book, clock = new_book(tmp_path)
    session = _put(book, ready_session(book, clock), {"final_sprocket": "60T"})
    old = session.sheets[-1].readings["final_sprocket"].part
    session = _put(book, session, {"final_sprocket": "66T"})
    assert book.log.get(Part, old).status == "here"
    assert known_value(session.sheets[-1].readings["final_sprocket_teeth"]) == 66.0


def test_a_prediction_comes_before_the_first_time(tmp_path: Path) -> None:
    """Afterwards it would be no prediction."""
    book, clock = new_book(tmp_path)
    session = predict(ready_session(book, clock), -0.1, clock(), give_or_take=0.1)
    assert session.prediction is not None
    assert session.prediction.at == clock()
    with pytest.raises(InputError, match="before them"):
        predict(typed(session, clock, [8.0]), -0.2, clock())


def test_air_is_added_and_never_replaced(tmp_path: Path) -> None:
    """Every observation stays."""
    book, clock = new_book(tmp_path)
    session = ready_session(book, clock)
    for degrees in (14.0, 16.0):
        air = AirReading(observed=clock.advance(minutes=50), temperature=degrees)
        session = note_air(session, air, clock())
    assert [a.temperature for a in session.air] == [14.0, 16.0]
