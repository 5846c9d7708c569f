"""What one slot of the setup sheet is, and short ways to write its row."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from core.setup.readings import State

__all__ = ["Group", "NumberSystem", "Slot", "SlotKind", "SlotRole"]

SlotKind = Literal["part", "number", "choice", "text"]
SlotRole = Literal["part", "setting", "measured"]
Range = tuple[float, float]


@dataclass(frozen=True)
class NumberSystem:
    """One way in which makers number a thing; numbers of two systems are never compared."""

    name: str  # as written behind the number: ``x100mm``
    aliases: tuple[str, ...]  # other ways to type it
    words: str  # what the number counts
    typical: Range
    hard: Range


@dataclass(frozen=True)
class Slot:
    """One place in the setup sheet."""

    id: str  # short trade word; stands in files and commands
    group: str  # heading it stands under
    label: str  # as read by a person
    kind: SlotKind
    role: SlotRole  # ``measured``: a result or a property, never a cause of a difference
    unit: str = ""  # of the stored number: a symbol of `core.units`, or a word such as ``teeth``
    decimals: int | None = None  # shown; None: as many as needed
    typical: Range | None = None  # outside it: asked once
    hard: Range | None = None  # outside it: refused
    choices: tuple[str, ...] = ()  # of a choice slot
    steps: tuple[float, ...] = ()  # the only values there are, in the slot's unit
    follows: tuple[str, ...] = ()  # slots whose change makes a change here a mere consequence
    of: str = ""  # the part slot whose fixed property this is: it changes with that part only
    condition: bool = False  # varies from day to day without being another build
    whole: bool = False  # whole numbers only
    usual_state: State = "set"  # of a value that is typed without saying how it is known
    instrument: str = ""  # it is usually read with: a row of `core.engine.INSTRUMENTS`
    at_zero: str = ""  # question when a zero is typed
    at_odd: str = ""  # question when an odd number is typed
    systems: tuple[NumberSystem, ...] = ()  # number systems of a text slot that holds a number


@dataclass(frozen=True)
class Group:
    """Writes rows under one heading; options are the fields of `Slot`."""

    name: str

    def part(self, key: str, label: str = "", **options: Any) -> Slot:
        """Return a slot that holds a part with an identity."""
        return self._row(key, label, "part", "part", options, "fitted")

    def setting(
        self,
        key: str,
        label: str,
        unit: str,
        typical: Range | None,
        hard: Range | None,
        decimals: int | None = None,
        **options: Any,
    ) -> Slot:
        """Return a number that the user chooses, or that comes with a part."""
        options |= {"unit": unit, "typical": typical, "hard": hard, "decimals": decimals}
        return self._row(key, label, "number", "setting", options, "set")

    def fact(
        self,
        key: str,
        of: str,
        label: str,
        unit: str,
        typical: Range | None,
        hard: Range | None,
        decimals: int | None = None,
        **options: Any,
    ) -> Slot:
        """Return a number that is a fixed property of a part."""
        options |= {"of": of, "unit": unit, "typical": typical, "hard": hard, "decimals": decimals}
        return self._row(key, label, "number", "setting", options, "set")

    def measured(
        self,
        key: str,
        label: str,
        unit: str,
        typical: Range | None,
        hard: Range | None,
        decimals: int | None = None,
        **options: Any,
    ) -> Slot:
        """Return a number that results from what is fitted and set."""
        options |= {"unit": unit, "typical": typical, "hard": hard, "decimals": decimals}
        return self._row(key, label, "number", "measured", options, "measured")

    def limit(self, key: str, of: str, label: str, **options: Any) -> Slot:
        """Return an rpm limit that the maker of a part states."""
        options |= {"of": of, "unit": "rpm", "decimals": 0}
        options |= {"typical": (3600, 9000), "hard": (1000, 14000)}
        return self._row(key, label, "number", "measured", options, "stated")

    def choice(
        self,
        key: str,
        label: str,
        choices: tuple[str, ...],
        **options: Any,
    ) -> Slot:
        """Return a choice from a few words."""
        return self._row(key, label, "choice", "setting", options | {"choices": choices}, "set")

    def text(self, key: str, label: str = "", **options: Any) -> Slot:
        """Return free words."""
        return self._row(key, label, "text", "setting", options, "set")

    def _row(
        self,
        key: str,
        label: str,
        kind: SlotKind,
        role: SlotRole,
        options: dict[str, Any],
        state: State,
    ) -> Slot:
        owner = options.get("of", "")
        follows = tuple(options.pop("follows", ()))
        if owner and owner not in follows:
            follows = (owner, *follows)
        options.setdefault("usual_state", state)
        words = label or key.replace("_", " ")
        return Slot(key, self.name, words, kind, role, follows=follows, **options)
