"""From a plan on paper to a session: its changes are put on the new session's setup sheet."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from core.errors import BlockedError, LogReadOnlyError
from core.session import Book, Filled, Session, fill, merged, put_on, swap_to
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
    """Start a session of the machine, or take its open one, and put the changes on its sheet.

    Returns:
        The session as it is saved, or None when it was left.

    Raises:
        BlockedError: nothing is planned, or it is no machine.
        LogReadOnlyError: the log is open to read only.
    """
    book = house.book
    if book.log.read_only:
        raise LogReadOnlyError(f"Nothing can be entered. {book.log.read_only_reason}")
    if not planned.typed:
        raise BlockedError("Nothing is changed on paper: there is nothing to plan.")
    if not subject.is_machine:
        raise BlockedError("A session needs a machine: a loose engine has to be on one.")
    if subject.session:
        return await _on_open_one(house, book.log.get(Session, subject.session), planned)
    house.preferences.change(machine=subject.id)
    session = await new_session(house)
    if session is None:
        return None
    if session.machine != subject.id and not await confirm(
        house, "That is another machine. Put the changes on its sheet all the same?"
    ):
        return session
    return await _with_changes(house, session, planned)


async def _on_open_one(house: BackToBackApp, session: Session, planned: Planned) -> Session | None:
    """Ask whether the changes go on the sheet of the open session, and put them there."""
    index = len(session.sheets) - 1
    has_run = any(attempt.sheet == index for attempt in session.attempts)
    where = "Its sheet has run: the next build starts." if has_run else "It has not run yet."
    title = f"{session.label} is open. Put these changes on its setup sheet?"
    if not await confirm(house, title, f"{where} Their checks fall due.", yes="Put them on it"):
        return None
    return await _with_changes(house, session, planned, swap_to if has_run else put_on)


async def _with_changes(
    house: BackToBackApp,
    session: Session,
    planned: Planned,
    put: Callable[[Book, Session, Filled], Session] = put_on,
) -> Session:
    """Put all changes on the sheet at once; a part on another machine is asked about."""
    book, now = house.book, session.sheets[-1].readings
    many = []
    for slot, given in planned.typed.items():
        text = given.part or planned.words[slot] if isinstance(given, Reading) else given
        filled = fill(book, session.machine, now, slot, text)
        if filled.two_machines is not None:
            answer = await ask_which_machine(house, filled.two_machines)
            if answer is None or answer == "mistake":
                continue
            filled = fill(book, session.machine, now, slot, text, answer=answer)
        many.append(filled)
    return put(book, session, merged(tuple(many))) if many else session
