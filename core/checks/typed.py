"""Reading a typed answer: the words for done and not done, reasons, one number, two numbers."""

from __future__ import annotations

import re

from core.checks.rules import Rule
from core.errors import InputError, OutOfRangeError
from core.units import Quantity, convert, format_number, read_quantity

__all__ = [
    "NUMBER",
    "UNIT",
    "in_range",
    "is_not_done",
    "is_unknown",
    "quoted",
    "read_done",
    "read_one",
    "read_own",
    "read_reason",
    "read_two",
]

NUMBER = r"[+\-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)"
UNIT = r"(?!ex(?:haust)?\b|of\b|own\b)[^\d\s,;/>]+"

_DONE = re.compile(r"^(?:done|yes|ok|d|y)(?:\s*[,;:]\s*|\s+|$)(.*)$", re.IGNORECASE | re.DOTALL)
_NOT_DONE = ("not done", "nd", "no", "n")
_NOT_APPLYING = re.compile(
    r"^(?:does not apply|not applicable|n/?a)\b[\s:;,.\-]*(.*)$", re.IGNORECASE | re.DOTALL
)
_UNKNOWN = ("unknown", "?", "not known")
_OWN = re.compile(rf"^(.*?)[\s,;]*\bown(?:\s+requirement)?\s+({NUMBER}\s*(?:{UNIT})?)\s*$", re.I)
_TWO = re.compile(
    rf"^(?:in(?:take)?\b\s*)?(?P<one>{NUMBER})\s*(?P<unit1>{UNIT})?"
    rf"(?:\s*[;/]\s*|,?\s+|,\s*(?=ex))(?:ex(?:haust)?\b\s*)?"
    rf"(?P<two>{NUMBER})\s*(?P<unit2>{UNIT})?$",
    re.IGNORECASE,
)
_SHOWN = 40  # letters of a typed text that a sentence repeats


def quoted(text: str) -> str:
    """Return typed text fit to stand in a sentence: short, in quotes, without control codes."""
    clean = "".join(c if c.isprintable() else "·" for c in text)
    return f"“{clean if len(clean) <= _SHOWN else clean[: _SHOWN - 1] + '…'}”"


def read_done(text: str) -> str | None:
    """Return the words that stand behind 'done', or None if it does not say done.

    >>> read_done("done"), read_done("done, in three steps"), read_done("maybe")
    ('', 'in three steps', None)
    """
    match = _DONE.match(text.strip())
    return None if match is None else match[1].strip()


def is_not_done(text: str) -> bool:
    """Tell whether it says not done."""
    return text.strip().casefold() in _NOT_DONE


def is_unknown(text: str) -> bool:
    """Tell whether it says that the answer is not known."""
    return text.strip().casefold() in _UNKNOWN


def read_reason(text: str) -> str | None:
    """Return the reason behind 'does not apply', or None if it does not say so.

    >>> read_reason("n/a: rod has no dipper, pump-fed"), read_reason("done")
    ('rod has no dipper, pump-fed', None)
    """
    match = _NOT_APPLYING.match(text.strip())
    return None if match is None else match[1].strip()


def read_own(text: str, unit: str) -> tuple[str, float | None]:
    """Return the text without the user's own requirement at its end, and the requirement.

    Raises:
        InputError: the requirement is no number of that unit, or not above zero.

    >>> read_own("3.1 2.6 own 1.5", "mm")
    ('3.1 2.6', 1.5)
    """
    match = _OWN.match(text.strip())
    if match is None:
        return text.strip(), None
    own = read_quantity(match[2], unit).value
    if own <= 0:
        raise InputError("Your own requirement has to be above zero.")
    return match[1].strip(), own


def read_one(text: str, rule: Rule) -> Quantity:
    """Return the one number of an answer, within the rule's hard range.

    Raises:
        InputError: not a number, or of another unit.
        OutOfRangeError: outside the hard range.
    """
    quantity = read_quantity(text, rule.unit)
    in_range(quantity, rule)
    return quantity


def read_two(text: str, rule: Rule) -> tuple[Quantity, Quantity]:
    """Return the two numbers of an answer; a unit behind the second counts for both.

    Raises:
        InputError: not two numbers.
        OutOfRangeError: one is outside the hard range.
    """
    match = _TWO.match(text.strip())
    if match is None:
        first, second = rule.sides
        raise InputError(
            f"{quoted(text)} is not two numbers: {first}, then {second}.",
            "Put a space between them, as in 0.10 0.15.",
        )
    unit2 = match["unit2"] or ""
    unit1 = match["unit1"] or unit2
    pair = (
        read_quantity(f"{match['one']} {unit1}", rule.unit),
        read_quantity(f"{match['two']} {unit2}", rule.unit),
    )
    for quantity in pair:
        in_range(quantity, rule)
    return pair


def in_range(quantity: Quantity, rule: Rule) -> None:
    """Refuse a number outside the hard range of its rule.

    Raises:
        OutOfRangeError: says the range, and what was meant if it was typed in thou.
    """
    span = rule.hard
    if span is None or span.low <= quantity.value <= span.high:
        return
    ends = f"{format_number(span.low)} to {format_number(span.high)} {rule.unit}".rstrip()
    typed = f"{format_number(quantity.value)} {rule.unit}".rstrip()
    hint = "Type it again, or with its unit."
    if rule.unit == "mm":
        thou = convert(quantity.value, "thou", "mm")
        if span.low < thou <= span.high:
            inch = format_number(quantity.value / 1000)
            hint = f"In thousandths of an inch? {inch} in is {thou:.2f} mm."
    raise OutOfRangeError(f"{typed} is outside {ends} for the {rule.short}.", hint)
