"""A session that is being planned: what it starts from, what is missing, what was typed for it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from core.attempts import Test, counted, find_test, find_timing
from core.errors import BackToBackError, InputError
from core.session.start import Plan, next_label, predict
from core.units import read_quantity
from tui.predictions import Prediction
from tui.preferences import Preferences

if TYPE_CHECKING:
    from core.session.book import Book
    from core.session.documents import Session

__all__ = [
    "Draft",
    "Named",
    "first_draft",
    "held_against",
    "numbered_test",
    "read_gain",
    "renewed",
    "start",
    "timing_title",
]


@dataclass(frozen=True)
class Named:
    """A machine or place: one the log holds, or a new one that is made when the session starts."""

    name: str
    id: str = ""  # empty: new
    type: str = "other"  # of a machine
    directions: tuple[str, ...] = ()  # of a place


@dataclass(frozen=True)
class Draft:
    """Everything that is fixed before the day."""

    label: str = ""
    machine: Named | None = None
    place: Named | None = None
    test: Test | None = None
    timing: str = ""
    question: str = ""
    gain: float | None = None  # in the test's unit
    prediction: Prediction | None = None
    before: str = ""  # id of the session it starts from
    before_label: str = ""
    copied_from: Named | None = None  # another machine whose values its first sheet starts with
    against: str = ""  # id of the session that the prediction is held against
    against_label: str = ""

    @property
    def missing(self) -> str:
        """What it cannot start without, ``machine`` or ``test``; empty when nothing is missing."""
        if self.machine is None:
            return "machine"
        return "test" if self.test is None else ""


def first_draft(book: Book, preferences: Preferences, machine: str = "") -> Draft:
    """Return a draft that is like the last session of a machine.

    Args:
        book: the open log.
        preferences: what was used last.
        machine: id; empty: the one used last, or that of the newest session.
    """
    heads = book.sessions()
    machines = {head.id: head for head in book.machines()}
    wanted = machine or preferences.machine
    own = [head for head in heads if head.machine == wanted]
    last = own[-1] if own else (None if machine else next(iter(reversed(heads)), None))
    used = machines.get(last.machine if last else wanted)
    return Draft(
        label=next_label([head.label for head in heads]),
        machine=Named(used.name, used.id, used.type) if used else None,
        place=_place(book, last.place if last else preferences.place),
        test=_test(last.test if last else preferences.test),
        timing=last.timing if last else preferences.timing,
        question=last.question if last else "",
        gain=last.gain if last else None,
        before=last.id if last else "",
        before_label=last.label if last else "",
    )


def renewed(kept: Draft, book: Book, preferences: Preferences) -> Draft:
    """Return a draft that was left, with the label and the sheet it would start from by now.

    Args:
        kept: as it was left.
        book: the open log.
        preferences: what was used last.
    """
    machine = kept.machine.id if kept.machine else ""
    now = first_draft(book, preferences, machine)
    if not machine:
        return replace(kept, label=now.label)
    return replace(kept, label=now.label, before=now.before, before_label=now.before_label)


def held_against(book: Book, draft: Draft) -> tuple[str, str]:
    """Return id and label of what a prediction is about: the newest that ran this test, if any did.

    Where none did, it is the session that the new one starts from.
    """
    machine = draft.machine.id if draft.machine else ""
    for head in reversed(book.sessions()):
        same = draft.test is not None and (head.machine, head.test) == (machine, draft.test.name)
        if same and counted(head.attempts, head.test, head.test):
            return head.id, head.label
    return draft.before, draft.before_label


def _place(book: Book, place: str) -> Named | None:
    for head in book.places():
        if head.id == place:
            return Named(head.name, head.id, directions=head.directions)
    return None


def _test(name: str) -> Test | None:
    try:
        return find_test(name) if name else None
    except BackToBackError:
        return None


def read_gain(text: str, test: Test) -> float | None:
    """Return the smallest gain worth having in the test's unit; None when nothing was typed.

    Raises:
        InputError: not a number above zero, or in a unit that does not fit.
    """
    if not text.strip():
        return None
    value = read_quantity(text, test.unit).value
    if not value > 0:
        raise InputError("The smallest gain worth having must be above zero.")
    return value


def numbered_test(draft: Draft) -> Test:
    """Return the test of a draft; raises InputError when there is none, or one without a number."""
    if draft.test is None or not draft.test.unit:
        raise InputError("Pick a test that gives a number first.")
    return draft.test


def timing_title(name: str) -> str:
    """Return the words for timing gear; empty when none is told."""
    return find_timing(name).title if name else ""


def start(book: Book, draft: Draft) -> Session:
    """Make what is new, start the session, and save all of it.

    Raises:
        InputError: machine or test is missing.
        LogError: it could not be saved.
    """
    if draft.machine is None or draft.test is None:
        raise InputError(f"A session needs a {draft.missing}.")
    machine, place = draft.machine, draft.place
    machine_id = machine.id or book.add_machine(machine.name, machine.type).id
    place_id = ""
    if place is not None:
        place_id = place.id or book.add_place(place.name, place.directions).id
    plan = Plan(
        machine=machine_id,
        place=place_id,
        test=draft.test.name,
        timing=draft.timing,
        label=draft.label,
        question=draft.question,
        gain=draft.gain,
        copied_from=draft.copied_from.id if draft.copied_from else "",
    )
    session = book.start(plan)
    expected = draft.prediction
    if expected is None:
        return session
    return book.act(
        session,
        lambda s: predict(
            s,
            expected.value,
            book.clock(),
            give_or_take=expected.give_or_take,
            against=draft.against,
        ),
    )
