"""Answering one check: what was typed becomes a result that clears it, or does not."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

import msgspec

from core.checks.against import Around, objection, remark
from core.checks.clay import ClayAnswer, read_clay
from core.checks.documents import CheckRecord
from core.checks.rulebook import rule_for
from core.checks.rules import AnswerKind, Rule
from core.checks.typed import (
    is_not_done,
    is_unknown,
    quoted,
    read_done,
    read_one,
    read_own,
    read_reason,
    read_two,
)
from core.engine.clay import ClayReading, ClayState
from core.errors import AmbiguousInputError, InputError
from core.setup.sheets import Sheet
from core.units import format_number

__all__ = ["Answered", "answer", "undo_answer"]

_MM = 1e-3  # m in a mm
_LEAST_WORDS = 2  # letters of an answer in words


@dataclass(frozen=True)
class Answered:
    """What one answer came to."""

    record: CheckRecord
    warning: str = ""  # why it does not clear, or what to look at again; empty: nothing


@dataclass(frozen=True)
class _Asked:
    """One answer on its way: the record opened afresh, and what is known around it."""

    record: CheckRecord
    before: CheckRecord
    rule: Rule
    text: str
    at: datetime
    sheet: Sheet | None
    around: Around

    def kept(self, **fields: object) -> CheckRecord:
        """Return the record with what was entered, open unless told otherwise."""
        return msgspec.structs.replace(self.record, result=self.text, at=self.at, **fields)


def answer(
    record: CheckRecord,
    text: str,
    at: datetime,
    sheet: Sheet | None = None,
    around: Around | None = None,
) -> Answered:
    """Enter the result of one check; nothing else clears it, and only this one.

    Args:
        record: the check, open or answered before.
        text: ``done``, ``not done``, ``n/a: reason``; a number or two with or without unit;
            words; clay as `core.checks.clay.read_clay` takes it; ``own 1.5`` at the end of a
            gap or margin tells the user's own requirement.
        at: the time now, aware.
        sheet: the setup sheet it is answered for, which may contradict the answer.
        around: what else is known.

    Returns:
        The record as it is then, and a sentence when it does not clear or leaves a doubt.

    Raises:
        InputError: nothing typed, or not an answer to this check.
        OutOfRangeError: a number outside the hard range.
        AmbiguousInputError: 'no' where words are asked for.
    """
    rule = rule_for(record)
    said = text.strip()
    if not said:
        raise InputError("Nothing was entered: a blank is not an answer.")
    around = around or Around()
    asked = _Asked(undo_answer(record), record, rule, said, at, sheet, around)
    if is_not_done(said) and not (rule.answer == "text" and said.casefold() in ("no", "n")):
        return Answered(asked.kept(answer="not done"))
    reason = read_reason(said)
    if reason is not None:
        return Answered(_not_applying(asked, reason))
    if is_unknown(said):
        return _unknown(asked)
    return _KINDS[rule.answer](asked)


def undo_answer(record: CheckRecord) -> CheckRecord:
    """Return the record open again, as it was before it was answered."""
    return CheckRecord(
        rule=record.rule,
        sheet=record.sheet,
        slots=record.slots,
        event=record.event,
        due_after=record.due_after,
        own=record.own,
    )


def _not_applying(asked: _Asked, reason: str) -> CheckRecord:
    if not asked.rule.may_not_apply:
        raise InputError(f"The check “{asked.rule.short}” always applies.", "done or not done")
    if not reason:
        raise InputError("Say why it does not apply.", "n/a: and the reason")
    return asked.kept(answer="does not apply", note=reason)


def _unknown(asked: _Asked) -> Answered:
    if not asked.rule.unknown:
        raise InputError(
            f"Unknown does not clear “{asked.rule.short}”.", "Leave it open, or say not done."
        )
    return Answered(asked.kept(answer="cleared"), asked.rule.unknown)


def _done(asked: _Asked) -> Answered:
    note = read_done(asked.text)
    if note is None:
        forms = "done or not done" + (", or n/a: reason" if asked.rule.may_not_apply else "")
        raise InputError(f"{quoted(asked.text)} is not an answer to this check.", forms)
    return _settled(asked, (), note=note)


def _words(asked: _Asked) -> Answered:
    word = asked.text.casefold()
    if word in ("no", "n"):
        raise AmbiguousInputError(
            f"{quoted(asked.text)} can be an answer or mean not done.", ("not done", "none")
        )
    if read_done(asked.text) == "" or sum(c.isalnum() for c in asked.text) < _LEAST_WORDS:
        raise InputError(f"{quoted(asked.text)} says too little: this one is asked in words.")
    return _settled(asked, ())


def _number(asked: _Asked) -> Answered:
    said, own = _with_own(asked)
    return _settled(asked, (read_one(said, asked.rule).value,), own=own)


def _numbers(asked: _Asked) -> Answered:
    said, own = _with_own(asked)
    one, two = read_two(said, asked.rule)
    return _settled(asked, (one.value, two.value), own=own)


def _with_own(asked: _Asked) -> tuple[str, float | None]:
    """Return the text without the own requirement, and that; only least values have one."""
    if asked.rule.clears_above is None and asked.rule.answer != "clay":
        return asked.text, None
    said, typed = read_own(asked.text, asked.rule.unit)
    given = typed if typed is not None else asked.around.own
    return said, given if given is not None else asked.record.own


def _settled(
    asked: _Asked, numbers: tuple[float, ...], *, own: float | None = None, note: str = ""
) -> Answered:
    """Clear the check unless something speaks against it; keep what was entered either way."""
    rule = asked.rule
    value, second = (*numbers, None, None)[:2]
    record = asked.kept(value=value, second=second, own=own, note=note)
    against = (
        _too_little(rule, numbers)
        or _below_own(rule, numbers, own)
        or objection(rule, asked.sheet, numbers, asked.around)
    )
    if against:
        return Answered(record, f"Kept, not cleared: {against}")
    said = (_alert(rule, numbers), remark(rule, asked.sheet, numbers, asked.around, asked.at))
    cleared = msgspec.structs.replace(record, answer="cleared")
    return Answered(cleared, " ".join(filter(None, said)))


def _too_little(rule: Rule, numbers: tuple[float, ...]) -> str:
    least = rule.clears_above
    low = min(numbers, default=None)
    if least is None or low is None or low > least:
        return ""
    return f"{format_number(low)} {rule.unit} of {rule.short} is contact."


def _below_own(rule: Rule, numbers: tuple[float, ...], own: float | None) -> str:
    low = min(numbers, default=None)
    if own is None or low is None or low >= own:
        return ""
    return f"{format_number(low)} is below your own requirement {format_number(own)} {rule.unit}."


def _alert(rule: Rule, numbers: tuple[float, ...]) -> str:
    hits = (alert.words for alert in rule.alerts if any(map(alert.hits, numbers)))
    return next(hits, "")


def _clay(asked: _Asked) -> Answered:
    said, own = _with_own(asked)
    clay = read_clay(said, asked.rule)
    (value, bound), (second, second_bound) = (_stored(side) for side in clay.sides)
    numbers = tuple(n for n in (value, second) if n is not None)
    record = asked.kept(value=value, second=second, own=own, note=_method(clay))
    record = msgspec.structs.replace(record, bound=bound, second_bound=second_bound)
    doubt = _clay_doubt(clay) or _below_own(asked.rule, numbers, own)
    if doubt:
        return Answered(record, f"Kept, not cleared: {doubt}")
    return Answered(
        msgspec.structs.replace(record, answer="cleared"), _contradiction(asked.before, record)
    )


def _stored(side: ClayReading) -> tuple[float | None, str]:
    """Return what the record keeps of one side: mm, and ``>`` for a bound."""
    if side.state is ClayState.TOUCHED_UNMEASURED or side.state is ClayState.TORN:
        return None, ""
    return round(side.gap / _MM, 9), ">" if side.is_bound else ""


def _method(clay: ClayAnswer) -> str:
    if clay.dial:
        return "light springs and dial gauge"
    states = (
        f"{name} {side.state}" for name, side in zip(("intake", "exhaust"), clay.sides, strict=True)
    )
    return "clay: " + ", ".join(states)


_CLAY_DOUBTS: Mapping[ClayState, str] = MappingProxyType(
    {
        ClayState.TORN: "torn clay is contact.",
        ClayState.TOUCHED_UNMEASURED: "the clay was touched, but its thinnest place is not known.",
        ClayState.NOT_TOUCHED: "not touched says only 'more than the clay put on', and clay in the "
        "wrong place is not touched either. Was it oiled, under the valves, lash zero, turned "
        "720°? It takes thicker clay that does touch, or light springs and a dial gauge.",
    }
)
"""What each state leaves open, the worst first."""


def _clay_doubt(clay: ClayAnswer) -> str:
    found = {side.state for side in clay.sides}
    return next((words for state, words in _CLAY_DOUBTS.items() if state in found), "")


def _contradiction(before: CheckRecord, now: CheckRecord) -> str:
    """Say so when clay that was not touched was thicker than the gap that is measured now."""
    pairs = (
        (before.bound, before.value, now.value),
        (before.second_bound, before.second, now.second),
    )
    for bound, old, new in pairs:
        if bound == ">" and old is not None and new is not None and new < old:
            return (
                f"Clay of {format_number(old)} mm was not touched before, yet this reads "
                f"{format_number(new)} mm: one of the two lay in the wrong place."
            )
    return ""


_KINDS: Mapping[AnswerKind, Callable[[_Asked], Answered]] = MappingProxyType(
    {
        "done": _done,
        "value": _number,
        "two values": _numbers,
        "text": _words,
        "clay": _clay,
    }
)
