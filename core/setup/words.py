"""A reading in words for a person, in the slot's unit, the unit typed, or one asked for."""

from __future__ import annotations

from core.errors import InputError
from core.setup.readings import Reading
from core.setup.slots import Slot
from core.setup.typed import COUNT_WORDS, count_word, take_apart
from core.units import convert, find_unit, format_number

__all__ = ["number_words", "plain_words", "reading_words", "span_words", "state_words"]

_GLUED = {"teeth": "T", ":1": ":1"}  # written without a space behind the number
_MORE_DECIMALS = 2  # shown beyond the slot's usual ones where a value has them

_STATE_WORDS = {"stated": "stated by maker", "estimated": "estimated"}


def _digits(value: float, decimals: int | None) -> str:
    if decimals is None:
        return format_number(value)
    for more in range(_MORE_DECIMALS + 1):
        if round(value, decimals + more) == value:
            return format_number(value, decimals + more)
    return format_number(value, decimals)


def number_words(slot: Slot, value: float, unit: str = "") -> str:
    """Return a number of this slot with its unit.

    Args:
        slot: tells the unit and the decimals.
        value: in the slot's unit.
        unit: symbol to show it in; empty: the slot's.

    Raises:
        InputError: the unit is of another kind than the slot's.

    >>> from core.setup.slots import find_slot
    >>> number_words(find_slot("final teeth"), 66), number_words(find_slot("rod limit"), 6500)
    ('66T', '6,500 rpm')
    """
    if unit and find_unit(unit).symbol != slot.unit:
        symbol = find_unit(unit).symbol
        return f"{format_number(convert(value, slot.unit, unit))} {symbol}".rstrip()
    return _with_unit(slot, value, _digits(value, slot.decimals))


def plain_words(slot: Slot, value: float, decimals: int | None = None) -> str:
    """Return a number with its unit as it stands in a sentence, without tail zeros.

    Args:
        slot: tells the unit.
        value: in the slot's unit.
        decimals: fixed, for a value that was not typed so; None: as many as needed.

    >>> from core.setup.slots import find_slot
    >>> plain_words(find_slot("lash ex"), 4.0), plain_words(find_slot("planned rpm"), 7500)
    ('4 mm', '7,500 rpm')
    """
    return _with_unit(slot, value, format_number(value, decimals))


def span_words(slot: Slot, low: float, high: float) -> str:
    """Return a range with its unit as it stands in a sentence.

    >>> from core.setup.slots import find_slot
    >>> span_words(find_slot("planned rpm"), 3600, 7000), span_words(find_slot("clip"), 1, 5)
    ('3,600 to 7,000 rpm', '1 to 5')
    """
    return f"{_bare(slot, low, format_number(low))} to {plain_words(slot, high)}"


def _bare(slot: Slot, value: float, text: str) -> str:
    return f"{value:,.0f}" if slot.unit == "rpm" and value >= 1000 else text


def _with_unit(slot: Slot, value: float, text: str) -> str:
    if slot.unit in _GLUED:
        return text + _GLUED[slot.unit]
    unit = slot.unit.removesuffix("s") if slot.unit in COUNT_WORDS and value == 1 else slot.unit
    return f"{_bare(slot, value, text)} {unit}".rstrip()


def reading_words(slot: Slot, reading: Reading | None, unit: str = "") -> str:
    """Return what a reading says, without how it is known.

    Args:
        slot: the slot it stands in.
        reading: None: never recorded.
        unit: symbol to show a number in; empty: the slot's, with what was typed if that was in
            another unit.

    >>> from core.setup.slots import find_slot
    >>> gasket = find_slot("gasket thickness")
    >>> reading_words(gasket, Reading(state="measured", value=1.2192, text="48 thou"))
    '48 thou (1.2192 mm)'
    >>> reading_words(gasket, None)
    'not recorded'
    """
    if reading is None:
        return "not recorded"
    if reading.state in ("unknown", "not fitted"):
        return reading.state
    if reading.value is None or reading.part:
        return reading.text or reading.part or "nothing"
    number = number_words(slot, reading.value, unit)
    typed = "" if unit else _typed_elsewhere(slot, reading.text)
    mark = f"{reading.bound} " if reading.bound else ""
    return f"{mark}{typed} ({number})" if typed else f"{mark}{number}"


def _typed_elsewhere(slot: Slot, text: str) -> str:
    """Return number and unit as typed, if that was in another unit than the slot's."""
    try:
        typed = take_apart(text)
        if not typed.unit or count_word(typed.unit) or find_unit(typed.unit).symbol == slot.unit:
            return ""
    except InputError:  # what came from another program need not be a number and a unit
        return ""
    return f"{typed.number} {find_unit(typed.unit).symbol}"


def state_words(reading: Reading | None) -> tuple[str, ...]:
    """Return what must be said about how a value is known; nothing for a plain one.

    >>> state_words(Reading(state="estimated", value=1.0, copied=True))
    ('estimated', 'copied, not measured')
    """
    if reading is None:
        return ()
    said = [_STATE_WORDS[reading.state]] if reading.state in _STATE_WORDS else []
    if reading.stale:
        said.append(f"from before {reading.stale_because}" if reading.stale_because else "stale")
    if reading.copied:
        said.append("copied, not measured")
    return tuple(said)
