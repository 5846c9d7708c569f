"""Fitting a part, and the question when the log has it on another machine."""

from __future__ import annotations

from datetime import date

import pytest

from core.errors import BlockedError, InputError
from core.setup import (
    Part,
    TwoMachines,
    ask_two_machines,
    elsewhere,
    fit,
    match_parts,
    retire,
    settle,
    take_off,
)
from tests.core.setup.making import NOON, sheet_of

NAMES = {"moth": "Moth", "badger": "Badger"}
ON_BADGER = Part(
    id="63t",
    name="63T",
    slot="final_sprocket",
    status="fitted",
    machine="badger",
    since=date(2026, 6, 2),
    teeth=63,
    hours_before=4.0,
)
OFF_MOTH = Part(
    id="66t", name="66T", slot="final_sprocket", status="fitted", machine="moth", teeth=66
)
FREE = Part(id="60t", name="60T", slot="final_sprocket", teeth=60)


def test_fitting_a_free_part() -> None:
    done = fit(FREE, "moth", NOON, off=OFF_MOTH)
    on, off = done.parts
    assert (on.id, on.status, on.machine, on.since) == ("60t", "fitted", "moth", NOON.date())
    assert (off.id, off.status, off.machine, off.since) == ("66t", "here", "", None)
    assert done.readings is not None
    assert set(done.readings) == {"final_sprocket", "final_sprocket_teeth"}


def test_fitting_what_is_on_already_keeps_its_date() -> None:
    again = fit(ON_BADGER, "badger", NOON, off=ON_BADGER)
    assert again.parts == (ON_BADGER,)


def test_a_retired_part_cannot_be_fitted() -> None:
    gone = retire(FREE, "two teeth gone")
    with pytest.raises(BlockedError, match=r"60T is retired \(two teeth gone\)"):
        fit(gone, "moth", NOON)
    assert take_off(gone).status == "retired"


def test_a_part_on_another_machine_is_asked_about() -> None:
    with pytest.raises(BlockedError, match="another machine"):
        fit(ON_BADGER, "moth", NOON)
    question = ask_two_machines(ON_BADGER, "moth", NAMES)
    assert question is not None
    assert question.question == "63T is on Badger since 2 Jun. Moved? Second one? Mistake?"
    assert list(question.answers) == ["moved", "second", "mistake"]


@pytest.mark.parametrize(("part", "machine"), [(FREE, "moth"), (ON_BADGER, "badger")])
def test_nothing_to_ask(part: Part, machine: str) -> None:
    assert ask_two_machines(part, machine, NAMES) is None


QUESTION = TwoMachines(ON_BADGER, "moth", "Badger")


def test_moved() -> None:
    on, off = settle(QUESTION, "moved", NOON, off=OFF_MOTH).parts
    assert (on.id, on.machine, on.since) == ("63t", "moth", NOON.date())
    assert (off.id, off.machine) == ("66t", "")
    assert ask_two_machines(on, "moth", NAMES) is None


def test_second_one() -> None:
    done = settle(QUESTION, "second", NOON, new_id="63t-2", off=OFF_MOTH)
    second = done.parts[0]
    assert (second.id, second.name, second.machine) == ("63t-2", "63T (second)", "moth")
    assert (second.teeth, second.hours_before) == (63, 0.0)
    assert done.readings is not None
    assert done.readings["final_sprocket"].part == "63t-2"
    assert "63t" not in [p.id for p in done.parts]  # the one on the Badger stays as it is
    with pytest.raises(InputError, match="id of its own"):
        settle(QUESTION, "second", NOON)


def test_mistake_changes_nothing() -> None:
    done = settle(QUESTION, "mistake", NOON, off=OFF_MOTH)
    assert (done.parts, done.readings) == ((), None)


def test_a_carried_sheet_may_hold_parts_that_left() -> None:
    sheet = sheet_of(final_sprocket="63t", rockers="thistle", bore="70")
    moved = settle(QUESTION, "moved", NOON).parts[0]
    (question,) = elsewhere(sheet, "badger", [moved, FREE], NAMES)
    assert question.question == "63T is on Moth since 26 Jul. Moved? Second one? Mistake?"
    assert elsewhere(sheet, "moth", [moved], NAMES) == ()


def test_a_fitted_part_is_still_found_by_its_letters() -> None:
    assert match_parts([ON_BADGER], "63") == (ON_BADGER,)
