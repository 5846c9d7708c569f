"""Jet numbers with the system they are counted in; two systems are never compared or converted."""

from __future__ import annotations

import re
from dataclasses import dataclass

from core.errors import InputError, UnknownInputError
from core.setup.readings import Reading
from core.setup.slots import NumberSystem, Slot
from core.setup.typed import cut_short
from core.units import format_number, read_number

__all__ = ["Jet", "jet_step", "read_jet"]

_JET = re.compile(r"^(\d[\d.,]*)\s*(\D.*|1/\d+.*)?$|^(.*?\D)\s+(\d[\d.,]*)$", re.DOTALL)


@dataclass(frozen=True)
class Jet:
    """A jet's number in its system."""

    number: float
    system: NumberSystem

    @property
    def text(self) -> str:
        """As it is kept: ``95 x100mm``."""
        return f"{format_number(self.number)} {self.system.name}"


def read_jet(slot: Slot, text: str) -> Jet | None:
    """Return the jet that a text names, or None when it names no number system of this slot.

    Args:
        slot: a jet slot; holds the systems.
        text: ``95 x100mm``, ``38 thou``, ``flow 98``; a bare number names no system.

    >>> from core.setup.slots import find_slot
    >>> read_jet(find_slot("main jet"), "95x100 mm").text, read_jet(find_slot("jet"), "95")
    ('95 x100mm', None)
    """
    found = _JET.match(text.strip())
    if found is None:
        return None
    number, name = (found[1], found[2]) if found[1] else (found[4], found[3])
    system = _system(slot, name or "")
    if system is None:
        return None
    try:
        return Jet(read_number(number), system)
    except InputError:
        return None


def _system(slot: Slot, name: str) -> NumberSystem | None:
    wanted = _squeezed(name)
    for system in slot.systems:
        if wanted and wanted in {_squeezed(n) for n in (system.name, *system.aliases)}:
            return system
    return None


def _squeezed(name: str) -> str:
    return re.sub(r"[\s.]", "", name.casefold().replace("×", "x"))


def jet_step(slot: Slot, before: Reading, after: Reading) -> float:
    """Return how much larger the second jet's number is than the first's, in their system.

    Raises:
        UnknownInputError: one of them has no number system, or they have different ones.

    >>> from core.setup.slots import find_slot
    >>> small, large = (Reading(state="set", text=t) for t in ("92 x100mm", "95 x100mm"))
    >>> jet_step(find_slot("main jet"), small, large)
    3.0
    """
    one, two = _told(slot, before), _told(slot, after)
    if one.system.name != two.system.name:
        raise UnknownInputError(
            f"Unknown: {one.text} and {two.text} are counted differently and not compared.",
            (slot.id,),
        )
    return two.number - one.number


def _told(slot: Slot, reading: Reading) -> Jet:
    jet = read_jet(slot, reading.text)
    if jet is None:
        raise UnknownInputError(
            f"Unknown: jet “{cut_short(reading.text)}” has no number system: not compared.",
            (slot.id,),
        )
    return jet
