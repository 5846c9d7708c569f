"""Starting a session: a copy of the last sheet, the standing checks, and the question it asks."""

from __future__ import annotations

from datetime import date, datetime

import msgspec

from core.checks import (
    CheckRecord,
    current_checks,
    is_settled,
    reopen_after,
    standing_checks,
    stood_too_long,
)
from core.errors import InputError
from core.session.documents import Place, Prediction, Session, TrailLine
from core.session.trail import recorded
from core.setup.sheets import Sheet, carry_over
from core.setup.stale import copy_from_machine

LEFT_OPEN = "left open last time"  # why a check carried over from the session before is due

__all__ = ["LEFT_OPEN", "Plan", "next_label", "predict", "start_session"]


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """What is fixed before the day: everything about a session that is not a result."""

    machine: str  # id
    test: str  # name of the main test
    timing: str = ""
    place: str = ""  # id
    label: str = ""  # empty: the next free one
    question: str = ""
    gain: float | None = None  # smallest gain worth having, in the test's unit
    rider: str = ""
    helper: str = ""
    copied_from: str = ""  # id of another machine, whose values a first sheet starts with


def next_label(labels: list[str]) -> str:
    """Return the next free label of the form S01, S02 ... after those in use.

    >>> next_label(["S01", "S09", "baseline"])
    'S10'
    """
    used = [int(label[1:]) for label in labels if label[:1] == "S" and label[1:].isdigit()]
    return f"S{max(used, default=0) + 1:02d}"


def start_session(
    plan: Plan,
    *,
    new_id: str,
    at: datetime,
    last: Session | None = None,
    place: Place | None = None,
    other: Session | None = None,
) -> Session:
    """Return a new open session on a copy of the last sheet of that machine.

    Args:
        plan: machine, place, test, timing, label and question.
        new_id: a fresh id.
        at: the time now.
        last: the machine's newest session, whose last sheet is copied; None: an empty sheet.
        place: where it runs, for its directions on that day.
        other: a session of another machine; where there is no ``last``, its values are taken over
            as copied, not measured, and its parts stay behind.

    Raises:
        InputError: the smallest gain is not above zero, or no label was given.
    """
    if plan.gain is not None and plan.gain <= 0:
        raise InputError("The smallest gain worth having must be above zero.")
    if not plan.label.strip():
        raise InputError("A session needs a label.")
    sheet = Sheet(started=at)
    came_from = ""
    checks = standing_checks(0)
    if last is not None and last.sheets:
        sheet, came_from = carry_over(last.sheets[-1], last.id, at), last.id
        left = _left_open(last)
        rules = {record.rule for record in left}
        checks = (*(c for c in checks if c.rule not in rules), *left)
        if stood_too_long(_last_day(last), at.date()):
            checks = reopen_after("stood", checks, 0)
    elif other is not None and other.sheets:
        sheet = copy_from_machine(other.sheets[-1], at)
    source = last if came_from else other if last is None else None
    words = f"started {plan.label}" + (f" from the sheet of {source.label}" if source else "")
    return Session(
        id=new_id,
        label=plan.label.strip(),
        machine=plan.machine,
        place=plan.place,
        started=at,
        test=plan.test,
        timing=plan.timing,
        question=plan.question,
        gain=plan.gain,
        rider=plan.rider,
        helper=plan.helper,
        came_from=came_from,
        directions=place.directions if place else (),
        sheets=(sheet,),
        checks=checks,
        trail=(TrailLine(at=at, action="start", words=words),),
    )


def _last_day(last: Session) -> date:
    """The local day the machine last ran, as far as that session knows."""
    ran = [a.at for a in last.attempts if a.at is not None]
    return max(ran, default=last.started).date()


def _left_open(last: Session) -> tuple[CheckRecord, ...]:
    """Checks that a change made due and nobody settled: still due in the next session."""
    counted = current_checks(last.checks, len(last.sheets) - 1)
    return tuple(
        CheckRecord(rule=record.rule, event=LEFT_OPEN, own=record.own)
        for record in counted
        if (record.slots or record.event == LEFT_OPEN) and not is_settled(record)
    )


def predict(
    session: Session,
    value: float,
    at: datetime,
    *,
    give_or_take: float | None = None,
    against: str = "",
) -> Session:
    """Lock what the user expects, with its time.

    Raises:
        InputError: attempts were already timed, so it would be no prediction.
    """
    if any(a.value is not None and a.kind == "timed" for a in session.attempts):
        raise InputError("Attempts are already timed: a prediction has to come before them.")
    made = Prediction(value=value, give_or_take=give_or_take, against=against, at=at)
    after = msgspec.structs.replace(session, prediction=made)
    return recorded(session, after, "predict", f"expected {value:+g}", at)
