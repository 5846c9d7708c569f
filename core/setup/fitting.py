"""Fitting a part: what changes on the shelf and the sheet, and what to ask when it is elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

import msgspec

from core.errors import BlockedError, InputError
from core.setup.documents import Part
from core.setup.readings import Reading
from core.setup.sheets import Sheet
from core.setup.shelf import part_readings
from core.setup.slots import slot_of

__all__ = [
    "Fitting",
    "TwoMachines",
    "TwoMachinesAnswer",
    "ask_two_machines",
    "elsewhere",
    "fit",
    "settle",
    "take_off",
]

TwoMachinesAnswer = Literal["moved", "second", "mistake"]


@dataclass(frozen=True)
class Fitting:
    """What follows from fitting a part; nothing is saved yet."""

    parts: tuple[Part, ...] = ()  # documents that changed or are new, to be saved
    readings: Mapping[str, Reading] | None = None  # for the sheet, by slot id; None: no change


@dataclass(frozen=True)
class TwoMachines:
    """A part picked for one machine while the log has it on another."""

    part: Part
    machine: str  # id of the machine it was picked for
    other: str  # name of the machine the log has it on

    @property
    def question(self) -> str:
        """The question, one line: ``63T is on Badger since 2 Jun. Moved? Second one? Mistake?``"""
        since = f" since {_day(self.part.since)}" if self.part.since else ""
        return f"{self.part.name} is on {self.other}{since}. Moved? Second one? Mistake?"

    @property
    def answers(self) -> dict[TwoMachinesAnswer, str]:
        """What each answer does, one line each."""
        name = self.part.name
        return {
            "moved": f"{name} came off {self.other} and goes on here.",
            "second": f"There are two: a second {name} goes on the shelf and on here.",
            "mistake": f"{name} stays on {self.other}; nothing is fitted here.",
        }


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"


def ask_two_machines(
    part: Part, machine: str, machine_names: Mapping[str, str]
) -> TwoMachines | None:
    """Return the question to put before this part is fitted, or None when there is none.

    Args:
        part: as the log has it.
        machine: id of the machine it is to go on.
        machine_names: names by id, for the sentence.
    """
    if part.status != "fitted" or part.machine in ("", machine):
        return None
    return TwoMachines(part, machine, machine_names.get(part.machine, part.machine))


def fit(part: Part, machine: str, at: datetime, off: Part | None = None) -> Fitting:
    """Return what follows from fitting a part that is free or already on this machine.

    Args:
        part: to go on.
        machine: id of the machine.
        at: when.
        off: the part that comes off for it.

    Raises:
        BlockedError: the part is retired, or the log has it on another machine.
    """
    if part.status == "retired":
        why = f" ({part.retired_because})" if part.retired_because else ""
        raise BlockedError(
            f"{part.name} is retired{why}: a retired part cannot be fitted.",
            "Pick another, or make a new part.",
        )
    if part.status == "fitted" and part.machine not in ("", machine):
        raise BlockedError(
            f"{part.name} is on another machine.", "Say whether it moved or is a second one."
        )
    return _fitted(part, machine, at, off)


def _fitted(part: Part, machine: str, at: datetime, off: Part | None) -> Fitting:
    stays = part.status == "fitted" and part.machine == machine
    since = part.since if stays and part.since else at.date()
    on = msgspec.structs.replace(part, status="fitted", machine=machine, since=since)
    came_off = (take_off(off),) if off is not None and off.id != part.id else ()
    return Fitting((on, *came_off), part_readings(on, at))


def take_off(part: Part) -> Part:
    """Return a part that came off its machine and lies on the shelf; a retired one stays so."""
    status = "retired" if part.status == "retired" else "here"
    return msgspec.structs.replace(part, status=status, machine="", since=None)


def settle(
    question: TwoMachines,
    answer: TwoMachinesAnswer,
    at: datetime,
    *,
    new_id: str = "",
    off: Part | None = None,
) -> Fitting:
    """Return what follows from an answer to the two-machine question.

    Args:
        question: as put.
        answer: ``moved``, ``second`` or ``mistake``.
        at: when it was answered.
        new_id: a fresh id for the second one.
        off: the part that comes off this machine for it.

    Raises:
        InputError: a second one without an id.
    """
    if answer == "mistake":
        return Fitting()
    if answer == "moved":
        return _fitted(question.part, question.machine, at, off)
    if not new_id:
        raise InputError(f"A second {question.part.name} needs an id of its own.")
    second = msgspec.structs.replace(
        question.part,
        id=new_id,
        name=f"{question.part.name} (second)",
        aliases=(),
        status="here",
        machine="",
        since=None,
        hours_before=0.0,
        links=(),
        note="",
        created=at,
    )
    return _fitted(second, question.machine, at, off)


def elsewhere(
    sheet: Sheet, machine: str, parts: Iterable[Part], machine_names: Mapping[str, str]
) -> tuple[TwoMachines, ...]:
    """Return a question for each part of a sheet that the log has on another machine by now.

    Args:
        sheet: carried over from an earlier session, say.
        machine: id of the machine the sheet is for.
        parts: those of the log.
        machine_names: names by id.
    """
    by_id = {part.id: part for part in parts}
    found = []
    for slot, reading in sheet.readings.items():
        part = by_id.get(reading.part)
        if part is None or slot_of(slot).kind != "part":
            continue
        question = ask_two_machines(part, machine, machine_names)
        if question is not None:
            found.append(question)
    return tuple(found)
