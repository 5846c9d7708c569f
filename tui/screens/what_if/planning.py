"""From a plan on paper to a session: its changes are put on the new session's setup sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.errors import BlockedError, LogReadOnlyError
from core.session import Session, fill, put_on
from core.setup import Reading
from tui.dialogs import confirm
from tui.dialogs.new_session import new_session
from tui.screens.session.slot_asking import ask_which_machine
from tui.screens.what_if.plan import Planned
from tui.subject import Subject

if TYPE_CHECKING:
    from tui.app import BackToBackApp

__all__ = ["start_planned"]


async def start_planned(house: BackToBackApp, subject: Subject, planned: Planned) -> Session | None:
    """Start a session of the machine and put the changes on its sheet.

    Raises:
        BlockedError: nothing is planned, it is no machine, or one of its sessions is open.
    """
    book = house.book
    if book.log.read_only:
        raise LogReadOnlyError(f"Nothing can be entered. {book.log.read_only_reason}")
    if not planned.typed:
        raise BlockedError("Nothing is changed on paper: there is nothing to plan.")
    if not subject.is_machine:
        raise BlockedError("A session needs a machine: a loose engine has to be on one.")
    if subject.session:
        raise BlockedError(
            f"{subject.sheet_of} of {subject.name} is open: it has to be closed first.",
            "Its changes can be typed into its own setup sheet.",
        )
    house.preferences.change(machine=subject.id)
    session = await new_session(house)
    if session is None:
        return None
    if session.machine != subject.id and not await confirm(
        house, "That is another machine. Put the changes on its sheet all the same?"
    ):
        return session
    return await _with_changes(house, session, planned)


async def _with_changes(house: BackToBackApp, session: Session, planned: Planned) -> Session:
    """Put each change on the sheet; a part that is on another machine is asked about."""
    book = house.book
    for slot, given in planned.typed.items():
        text = given.part or planned.words[slot] if isinstance(given, Reading) else given
        now = session.sheets[-1].readings
        filled = fill(book, session.machine, now, slot, text)
        if filled.two_machines is not None:
            answer = await ask_which_machine(house, filled.two_machines)
            if answer is None or answer == "mistake":
                continue
            filled = fill(book, session.machine, now, slot, text, answer=answer)
        session = put_on(book, session, filled)
    return session
