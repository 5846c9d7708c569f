"""The lines of a reading before it is kept: what each one shows and how it is asked for."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Final

from textual.app import App

from core.bench import GAUGE_UNITS, gauge_figures
from core.bench.documents import Condition
from core.engine import Instrument
from core.errors import InputError
from core.session import Book
from core.units import format_number, read_number, read_quantity
from tui.dialogs import Option, PickRow, ask_choice, ask_text, pick
from tui.screens.bench.taken import Taking
from tui.screens.bench.values import ask_value
from tui.subject import Subject

__all__ = ["Asker", "Field", "fields_of", "gauge_words"]

_HEAD: Final = (-40.0, 400.0)  # °C
_CONDITIONS: Final[dict[str, Condition]] = {"c": "cold", "h": "hot", "n": ""}


@dataclass(frozen=True)
class Asker:
    """What the questions need."""

    app: App[Any]
    book: Book
    subject: Subject


@dataclass(frozen=True)
class Field:
    """One line of a reading."""

    words: str
    """What stands before it."""
    shown: Callable[[Asker, Taking], str]
    """Its value."""
    ask: Callable[[Asker, Taking], Awaitable[Taking | None]]
    """Asks for it; None when esc was pressed."""


def gauge_words(gauge: Instrument) -> str:
    """Return the figures of an instrument: its step and how well it repeats."""
    step, spread, unit = gauge_figures(gauge)
    return f"step {format_number(step)}, repeats within {format_number(spread)} {unit}"


async def _value(asker: Asker, taking: Taking) -> Taking | None:
    return await ask_value(asker.app, asker.book, asker.subject, taking)


def _instrument_words(asker: Asker, taking: Taking) -> str:
    gauges = asker.subject.past.gauges
    gauge = gauges.get(taking.instrument or taking.gauge)
    if gauge is None:
        return "none told"
    usual = "" if taking.instrument else " (usual)"
    return f"{gauge.words}{usual}, {gauge_words(gauge)}"


def _same_kind(unit: str, gauge: Instrument) -> bool:
    """Tell whether an instrument reads what is in this unit."""
    reads = GAUGE_UNITS.get(gauge.key, ("mm", 0.0))[0]
    return reads == unit or (reads == "mm" and unit == "m")


async def _instrument(asker: Asker, taking: Taking) -> Taking | None:
    gauges = asker.subject.past.gauges
    fitting = [g for g in gauges.values() if _same_kind(taking.unit, g)] or list(gauges.values())
    rows = [PickRow(g.key, g.words, gauge_words(g)) for g in fitting]
    at = taking.instrument or taking.gauge
    picked = await pick(asker.app, "Read with what?", rows, at=at)
    return None if picked is None else replace(taking, instrument=picked.id)


async def _condition(asker: Asker, taking: Taking) -> Taking | None:
    options = (Option("c", "cold"), Option("h", "hot"), Option("n", "not told"))
    answer = await ask_choice(asker.app, "Was the engine cold or hot?", options)
    return None if answer is None else replace(taking, condition=_CONDITIONS[answer.key])


def _read_head(text: str) -> float | None:
    if not text.strip():
        return None
    value = read_quantity(text, "°C").value
    if not _HEAD[0] <= value <= _HEAD[1]:
        raise InputError(f"{format_number(value)} °C is no temperature of a head.")
    return value


async def _head(asker: Asker, taking: Taking) -> Taking | None:
    title = "Temperature of the head, °C"
    typed = await ask_text(asker.app, title, hint="°C; blank: not told", check=_read_head)
    return None if typed is None else replace(taking, head_temperature=_read_head(typed))


def _read_times(text: str) -> int:
    number = read_number(text)
    if number != int(number) or not 1 <= number <= 1000:
        raise InputError("A reading is the mean of 1 to 1000 readings, a whole number.")
    return int(number)


async def _times(asker: Asker, taking: Taking) -> Taking | None:
    typed = await ask_text(
        asker.app, "It is the mean of how many readings?", value=str(taking.times),
        check=_read_times,
    )  # fmt: skip
    return None if typed is None else replace(taking, times=_read_times(typed))


def _read_spread(text: str, unit: str) -> float | None:
    if not text.strip():
        return None
    value = read_quantity(text, unit).value
    if value < 0:
        raise InputError("Repeatability is below zero: it cannot be.")
    return value


async def _spread(asker: Asker, taking: Taking) -> Taking | None:
    typed = await ask_text(
        asker.app,
        f"How well did this reading repeat, {taking.unit or 'no unit'}?",
        sentence="One standard deviation of doing it again. Blank: as the instrument usually does.",
        check=lambda text: _read_spread(text, taking.unit),
    )
    if typed is None:
        return None
    return replace(taking, repeatability=_read_spread(typed, taking.unit))


def _read_time(text: str, now: datetime) -> datetime:
    try:
        when = datetime.fromisoformat(text.strip())
    except ValueError:
        raise InputError("A date, or date and time, such as 2026-07-26 19:30.") from None
    when = when if when.tzinfo else when.replace(tzinfo=now.tzinfo)
    if when > now:
        raise InputError("That is still to come: a reading was taken before now.")
    return when


async def _at(asker: Asker, taking: Taking) -> Taking | None:
    now = asker.book.clock()
    typed = await ask_text(
        asker.app,
        "When was it taken?",
        value=f"{taking.at:%Y-%m-%d %H:%M}",
        check=lambda text: _read_time(text, now),
    )
    return None if typed is None else replace(taking, at=_read_time(typed, now))


async def _note(asker: Asker, taking: Taking) -> Taking | None:
    typed = await ask_text(asker.app, "A note with it", value=taking.note)
    return None if typed is None else replace(taking, note=typed)


def _read_own(text: str) -> str:
    if text.strip() and read_quantity(text, "mm").value <= 0:
        raise InputError("A least gap is above zero.")
    return text.strip()


async def _own(asker: Asker, taking: Taking) -> Taking | None:
    typed = await ask_text(
        asker.app,
        "Your own least gap, mm",
        sentence="It stands beside every answer and clears nothing by itself. Blank: none told.",
        value=taking.own,
        check=_read_own,
    )
    return None if typed is None else replace(taking, own=_read_own(typed))


async def _lash(asker: Asker, taking: Taking) -> Taking | None:
    options = (Option("u", "taken up, zero lash"), Option("s", "as it was set"))
    answer = await ask_choice(asker.app, "How was the lash while the clay was in?", options)
    return None if answer is None else replace(taking, lash_zero=answer is options[0])


def _read_tight(text: str) -> tuple[float | None, float | None]:
    words = text.split()
    if not words:
        return (None, None)
    if len(words) != 2:
        raise InputError("Two lobe lifts in mm, intake then exhaust, or blank; - is not seen.")
    lifts = [None if word == "-" else read_quantity(word, "mm").value for word in words]
    if any(lift is not None and not 0 <= lift <= 12 for lift in lifts):
        raise InputError("A lobe lift is 0 to 12 mm.")
    return (lifts[0], lifts[1])


async def _tight(asker: Asker, taking: Taking) -> Taking | None:
    typed = await ask_text(
        asker.app,
        "Lobe lift where it was tightest, mm: intake, then exhaust",
        sentence="Without a lift table it sharpens the optimistic estimate. Blank: not seen.",
        check=_read_tight,
    )
    return None if typed is None else replace(taking, tight=_read_tight(typed))


def _tight_words(asker: Asker, taking: Taking) -> str:
    said = ("not seen" if x is None else f"{format_number(x)} mm" for x in taking.tight)
    return " / ".join(said) if any(taking.tight) else "not seen"


def _with_unit(value: float | None, unit: str, instead: str) -> str:
    return instead if value is None else f"{format_number(value)} {unit}".strip()


_VALUE: Final = Field("Read", lambda _, t: t.text, _value)
_WHEN: Final = (
    Field("Cold or hot", lambda _, t: t.condition or "not told", _condition),
    Field("Head", lambda _, t: _with_unit(t.head_temperature, "°C", "not told"), _head),
    Field("Taken", lambda _, t: f"{t.at.day} {t.at:%b %Y %H:%M}", _at),
    Field("Note", lambda _, t: t.note or "–", _note),
)
_READ: Final = (
    _VALUE,
    Field("Instrument", _instrument_words, _instrument),
    Field("Mean of", lambda _, t: str(t.times), _times),
    Field("Repeats", lambda _, t: _with_unit(t.repeatability, t.unit, "as usual"), _spread),
    *_WHEN,
)
_CLAY: Final = (
    _VALUE,
    Field("Own least", lambda _, t: f"{t.own} mm" if t.own else "none told", _own),
    Field("Lash", lambda _, t: "taken up" if t.lash_zero else "as it was set", _lash),
    Field("Tightest at", _tight_words, _tight),
    Field("Repeats", lambda _, t: _with_unit(t.repeatability, "mm", "as usual"), _spread),
    *_WHEN,
)


def fields_of(taking: Taking) -> tuple[Field, ...]:
    """Return the lines of a reading, in the order they are shown."""
    return _CLAY if taking.what == "clay" else _READ
