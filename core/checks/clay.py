"""Reading a clay answer: touched and measured, not touched, touched only, torn; or a dial gauge."""

from __future__ import annotations

import re
from dataclasses import dataclass

from core.checks.rules import Rule
from core.checks.typed import NUMBER, UNIT, in_range, quoted
from core.engine.clay import ClayReading, ClayState
from core.errors import InputError
from core.units import Quantity, read_quantity

__all__ = ["ClayAnswer", "read_clay"]

_MM = 1e-3  # m in a mm

_SIDE = rf"torn|touched|>\s*{NUMBER}\s*(?:{UNIT})?|{NUMBER}\s*(?:{UNIT})?"
_PAIR = re.compile(
    rf"^(?:in(?:take)?\b\s*)?(?P<one>{_SIDE})(?:\s*[;/]\s*|,?\s+)"
    rf"(?:ex(?:haust)?\b\s*)?(?P<two>{_SIDE})$",
    re.IGNORECASE,
)
_BOTH = re.compile(rf"^(?P<one>torn|touched|>\s*{NUMBER}\s*(?:{UNIT})?)$", re.IGNORECASE)
_NOT_TOUCHED = re.compile(r"\b(?:not touched|no touch|untouched)\b[\s:,]*|>=|≥", re.IGNORECASE)
_UNMEASURED = re.compile(r"\btouched\b[\s,;:]*(?:unmeasured|not measured)\b", re.IGNORECASE)
_APPLIED = re.compile(rf"^(.*?)[\s,;]*\bof\s+({NUMBER}\s*(?:{UNIT})?)$", re.IGNORECASE)
_DIAL = re.compile(r"^(?:light springs(?: and dial(?: gauge)?)?|dial(?: gauge)?)\b[\s:,]*", re.I)
_FORMS = "Such as 3.1 2.6, or >2.0 for not touched, or touched, or torn."


@dataclass(frozen=True)
class ClayAnswer:
    """What was typed about the two gaps."""

    intake: ClayReading
    exhaust: ClayReading
    dial: bool  # taken with light springs and a dial gauge, not with clay

    @property
    def sides(self) -> tuple[ClayReading, ClayReading]:
        """Both, intake first."""
        return (self.intake, self.exhaust)


def read_clay(text: str, rule: Rule) -> ClayAnswer:
    """Read a valve-to-piston answer.

    Args:
        text: ``3.1 2.6`` or ``in 3.1 ex 2.6 mm``: thinnest clay on each side, with ``of 4`` the
            thickness put on; ``>2.0``, ``no touch 2.0``: not touched, with the thickness put on;
            ``3.1 >4.0``: one of each; ``touched``: not measured; ``torn``; ``dial 3.1 2.6``: with
            light springs and a dial gauge.
        rule: for unit and hard range.

    Raises:
        InputError: none of these forms, a zero, or thicker than what was put on.
        OutOfRangeError: outside the hard range.
    """
    said, dial = _DIAL.subn("", text.strip())
    said = _UNMEASURED.sub("touched", said)
    applied = None
    with_applied = _APPLIED.match(said)
    if with_applied is not None:
        said = with_applied[1]
        applied = _thickness(with_applied[2], rule)
    said = _NOT_TOUCHED.sub(">", said).strip()
    if said in (">", ""):
        raise InputError("How thick was the clay that was not touched?", _FORMS)
    pair, both = _PAIR.match(said), _BOTH.match(said)
    if pair is not None:
        one, two = pair["one"], pair["two"]
    elif both is not None:
        one = two = both["one"]
    else:
        raise InputError(f"{quoted(text)} is not a clay reading of intake and exhaust.", _FORMS)
    answer = ClayAnswer(_side(one, applied, rule), _side(two, applied, rule), bool(dial))
    if dial and not all(side.clears for side in answer.sides):
        raise InputError("A dial gauge gives two numbers: intake, then exhaust.", "dial 3.1 2.6")
    return answer


def _side(text: str, applied: float | None, rule: Rule) -> ClayReading:
    word = text.strip().casefold()
    if word == "torn":
        return ClayReading(ClayState.TORN)
    if word == "touched":
        return ClayReading(ClayState.TOUCHED_UNMEASURED)
    if word.startswith(">"):
        return ClayReading(ClayState.NOT_TOUCHED, applied=_thickness(word[1:], rule))
    return ClayReading(ClayState.TOUCHED, thinnest=_thickness(word, rule), applied=applied)


def _thickness(text: str, rule: Rule) -> float:
    quantity: Quantity = read_quantity(text, rule.unit)
    if quantity.value == 0:
        raise InputError(
            "A gap of 0 is contact: type torn, or the thinnest clay that was measured."
        )
    in_range(quantity, rule)
    return quantity.value * _MM
