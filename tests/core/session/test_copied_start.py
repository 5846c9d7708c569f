"""A first sheet that starts with the values of another machine: copied, not measured."""

from __future__ import annotations

from pathlib import Path

import msgspec

from core.session import Book, Plan, Session, fill, put_on
from core.setup import Reading, state_words
from tests.making import new_book

VALUES = {"bore": "70.0", "deck": "0.25", "rider_mass": "78", "final_sprocket": "66T"}


def _typed(book: Book, session: Session, slot: str, text: str) -> Session:
    filled = fill(book, session.machine, session.sheets[-1].readings, slot, text)
    return put_on(book, session, filled)


def test_values_are_copied_until_they_are_confirmed_and_parts_stay_behind(tmp_path: Path) -> None:
    book, _ = new_book(tmp_path)
    moth, wasp = book.add_machine("Kettle Moth"), book.add_machine("Tin Wasp")
    session = book.start(Plan(machine=moth.id, test="0-50"))
    for slot, text in VALUES.items():
        session = _typed(book, session, slot, text)
    made = book.start(Plan(machine=wasp.id, test="0-50", copied_from=moth.id))
    readings = made.sheets[0].readings
    assert {slot: r.text for slot, r in readings.items() if slot in VALUES} == {
        "bore": "70.0",
        "deck": "0.25",
    }
    assert all(state_words(r)[-1] == "copied, not measured" for r in readings.values())
    assert (made.came_from, made.trail[0].words) == ("", "started S02 from the sheet of S01")
    confirmed = _typed(book, made, "bore", "70.0").sheets[-1].readings
    assert state_words(confirmed["bore"]) == ()
    assert confirmed["deck"].copied


def test_a_machine_that_has_a_sheet_starts_on_its_own(tmp_path: Path) -> None:
    book, _ = new_book(tmp_path)
    moth, wasp = book.add_machine("Kettle Moth"), book.add_machine("Tin Wasp")
    for machine, bore in ((moth, 70.0), (wasp, 68.0)):
        session = book.start(Plan(machine=machine.id, test="0-50"))
        sheet = msgspec.structs.replace(
            session.sheets[0], readings={"bore": Reading(state="measured", value=bore)}
        )
        book.save(msgspec.structs.replace(session, sheets=(sheet,)))
    made = book.start(Plan(machine=wasp.id, test="0-50", copied_from=moth.id))
    assert (made.sheets[0].readings["bore"].value, made.came_from != "") == (68.0, True)
    assert not made.sheets[0].readings["bore"].copied
