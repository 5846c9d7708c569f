"""What one row of the formula register is: what goes in, what comes out, where it is from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from core.setup import SLOTS

__all__ = ["COMMON", "FILE_KINDS", "Formula", "Input", "InputKind", "Outcome", "Output"]

COMMON = "common practice, no source"

InputKind = Literal[
    "number", "clay", "choice", "stages", "teeth", "lift table", "torque curve", "speed trace"
]
"""How an input is typed: a number with or without unit, what clay showed, a choice from a few
words, pairs of teeth, a list of teeth, or rows of two columns."""

FILE_KINDS: frozenset[InputKind] = frozenset({"lift table", "torque curve", "speed trace"})
"""Inputs whose text is rows; on the command line they name a file that holds them."""


@dataclass(frozen=True)
class Input:
    """One value that goes into a formula."""

    name: str  # as typed before the equals sign: ``gasket-bore``
    label: str  # as read by a person
    unit: str = ""  # it is typed in when none stands behind it; a symbol of `core.units`
    kind: InputKind = "number"
    required: bool = True
    default: str = ""  # as it would be typed; empty: the formula does without it
    slot: str = ""  # slot of the setup sheet that holds it
    instrument: str = ""  # it is usually read with; empty: that of the slot, if any
    least: float | None = None  # in ``unit``; the usual doubt of a reading ends here
    most: float | None = None  # the same at the upper end
    choices: tuple[str, ...] = ()
    whole: bool = False  # whole numbers only
    unknown_counts: bool = False  # the formula itself knows what to make of an unknown one
    to: str = ""  # argument of the function; empty: the name with underscores

    @property
    def argument(self) -> str:
        """Name of the function's argument that takes it."""
        return self.to or self.name.replace("-", "_")

    @property
    def short(self) -> str:
        """The label without what is explained behind its comma."""
        return self.label.split(",")[0]

    @property
    def gauge(self) -> str:
        """Key of the instrument it is usually read with; empty: it has no doubt of its own."""
        return self.instrument or (SLOTS[self.slot].instrument if self.slot else "")

    @property
    def spellings(self) -> tuple[str, ...]:
        """Names that may stand before the equals sign, folded."""
        return tuple(dict.fromkeys((self.name, self.slot.replace("_", "-") or self.name)))


@dataclass(frozen=True)
class Output:
    """One number that comes out of a formula."""

    name: str
    label: str
    unit: str = ""  # it is shown in
    decimals: int = 2
    worst: bool = False  # its range holds with every doubt at its worst at once


@dataclass(frozen=True)
class Outcome:
    """What a formula came to, where it is more than one number."""

    numbers: Mapping[str, float | None]  # SI, by name of the output; None: there is none
    notes: tuple[str, ...] = ()  # sentences worth reading beside the numbers
    rows: tuple[tuple[str, ...], ...] = ()  # of a table with the formula's columns


@dataclass(frozen=True, kw_only=True)
class Formula:
    """One formula of the register."""

    id: str  # trade words: ``compression-ratio``
    title: str
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    compute: Callable[..., float | Outcome]  # of the arguments, SI, by name
    equation: str
    source: str
    covers: tuple[str, ...]  # public formulas of the rooms below that it shows: ``engine.rpm``
    caution: str = ""  # where a number could hurt someone
    columns: tuple[str, ...] = ()  # headings of the table that it may give
    also: Mapping[str, Any] = field(default_factory=dict)  # fixed arguments of the function

    def find(self, name: str) -> Input | None:
        """Return the input of this name, or None."""
        sought = name.strip().casefold().replace("_", "-").replace(" ", "-")
        return next((one for one in self.inputs if sought in one.spellings), None)
