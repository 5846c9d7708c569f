"""Reading a typed number with its range: ``22.5``, ``22.5+-0.2 cc``, ``22.3..22.7``, ``?``."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TypeVar

from core.errors import AmbiguousInputError, InputError
from core.ranged import Ranged
from core.setup.typed import UNKNOWN_WORDS, cut_short
from core.units import Quantity, read_quantity

__all__ = ["is_unknown", "named", "read_ranged"]

T = TypeVar("T")

_WITHIN = re.compile(r"\s*(?:\+\s*/?\s*[-−]|±)\s*")
_SPAN = re.compile(r"\s*(?:\.{2,}|…)\s*")
_GROUPED = re.compile(r"^[+\-−]?[1-9]\d{0,2}(,\d{3})+(?![\d,])")
_UNIT = re.compile(r"^[+\-−]?[\d.,]+(?:[eE][+\-]?\d+)?\s*(\D.*)?$", re.DOTALL)
_FORMS = "Such as 22.5, 22.5+-0.2, 22.3..22.7, or ? for unknown."


def is_unknown(text: str) -> bool:
    """Tell whether a text says that the value is not known."""
    return text.strip().casefold() in UNKNOWN_WORDS


def named(label: str, read: Callable[[], T]) -> T:
    """Return what was read; a refusal names the value it is about.

    Raises:
        InputError: as reading raised, with the label before it.
    """
    try:
        return read()
    except AmbiguousInputError as error:
        raise AmbiguousInputError(
            f"{_start(label)}: {error.message}", error.choices, error.hint
        ) from None
    except InputError as error:
        raise type(error)(f"{_start(label)}: {error.message}", error.hint) from None


def _start(label: str) -> str:
    return label[:1].upper() + label[1:]


def read_ranged(text: str, unit: str) -> Ranged:
    """Return a typed number with its range, in the unit asked for; exact when none was typed.

    Args:
        text: a number, ``number+-half`` or ``low..high``; a unit may stand behind either.
        unit: symbol it is kept in, and that it has when none is typed.

    Raises:
        InputError: blank, not a number, a unit of another kind, a range that runs downward.
        AmbiguousInputError: a comma that may part thousands.

    >>> read_ranged("22.5+-0.2", "cm³").text(1), read_ranged("22.3..22.7 cc", "cm³").text(1)
    ('22.5 (22.3 to 22.7)', '22.5 (22.3 to 22.7)')
    """
    word = text.strip()
    if not word:
        raise InputError("nothing was typed, and a blank is not a value.", _FORMS)
    within, span = _WITHIN.split(word), _SPAN.split(word)
    if len(within) == 2 and within[0]:
        return _from_half(within[0], within[1], unit)
    if len(span) == 2 and all(span):
        return _from_ends(span[0], span[1], unit)
    return Ranged.exact(_quantity(word, unit).value)


def _from_half(middle: str, half: str, unit: str) -> Ranged:
    shared = _unit_in(middle) or _unit_in(half)
    value = _quantity(_with_unit(middle, shared), unit).value
    typed = _quantity(_with_unit(half, shared), unit)
    width = typed.value - _quantity(_with_unit("0", typed.unit), unit).value
    if width < 0:
        raise InputError(f"“{cut_short(half)}” is below zero: give or take is not.", _FORMS)
    return Ranged.within(value, width)


def _from_ends(low: str, high: str, unit: str) -> Ranged:
    shared = _unit_in(high) or _unit_in(low)
    one, two = (_quantity(_with_unit(end, shared), unit).value for end in (low, high))
    if one > two:
        raise InputError(
            f"“{cut_short(f'{low}..{high}')}” runs downward: the lower end comes first.", _FORMS
        )
    return Ranged((one + two) / 2, one, two)


def _unit_in(text: str) -> str:
    found = _UNIT.match(text)
    return (found[1] or "").strip() if found else ""


def _with_unit(text: str, unit: str) -> str:
    return text if _unit_in(text) else f"{text} {unit}".strip()


def _quantity(text: str, unit: str) -> Quantity:
    grouped = _GROUPED.match(text.strip())
    if grouped:
        plain, point = grouped[0].replace(",", ""), grouped[0].replace(",", ".")
        choices = (plain, point) if point.count(".") == 1 else (plain,)
        raise AmbiguousInputError(
            f"“{cut_short(grouped[0])}” has a comma: is it {' or '.join(choices)}?",
            choices,
            "Type it without a thousands separator.",
        )
    if text.strip().startswith(("<", ">", "~", "≈", "≤", "≥")):
        raise InputError(
            f"“{cut_short(text)}” is a bound or an estimate, not a number: type its range.", _FORMS
        )
    if _unit_in(text) == unit:  # units of counting and our own words need no conversion
        return read_quantity(text[: text.rindex(unit)] if unit else text, "")
    quantity = read_quantity(text, unit)
    if abs(quantity.value) == float("inf"):
        raise InputError(f"“{cut_short(text)}” is too large.")
    return quantity
