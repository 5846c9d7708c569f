"""Reading check cases of any file of the form: inputs by name with their units, answers by name."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from core.errors import InputError
from core.units import convert

Answers = dict[str, Callable[[], Any]]
"""Name or pattern of an expected value -> how to compute it, in SI units."""

_PLAIN = re.compile(
    r"1|unit|bool.*|bound|teeth|runs|same unit|sigma|hex|undefined.*|.* per .*"
    r"|(crank |cam )?deg( .*)?|kg m\^2|N s\^2/m\^2|1/min|links"
)
_TARGETS = ("m", "m²", "m³", "s", "m/s", "m/s²", "kg", "N", "N·m", "Pa", "K", "W", "kg/m³", ":1")
_SPELT = {"inch": "in", "degC": "°C", "degF": "°F", "kg/m^3": "kg/m³", "%": "%", "N m": "N·m"}


class MissingInput(Exception):
    """A case does not give an input that one answer would need."""


def plain_name(name: str) -> str:
    """Return a name without remarks in brackets, folded, with words parted by one underscore."""
    bare = re.sub(r"\s\(.*?\)", "", name).casefold()
    return re.sub(r"[^a-z0-9.]+", "_", bare).strip("_")


def to_si(value: Any, unit: str) -> Any:
    """Return a number or nested list in the SI unit of its kind; angles stay degrees, rpm 1/min."""
    if isinstance(value, list):
        return [to_si(one, unit) for one in value]
    if isinstance(value, bool | str) or value is None or _PLAIN.fullmatch(unit):
        return value
    name = _SPELT.get(unit, unit.replace("^2", "²").replace("^3", "³"))
    for target in _TARGETS:
        try:
            return convert(float(value), name, target)
        except InputError:
            continue
    raise AssertionError(f"no SI unit is known for {unit!r}")


def scale(unit: str) -> float:
    """Return how many SI units one unit is."""
    return float(to_si(1.0, unit)) - float(to_si(0.0, unit))


@dataclass(frozen=True)
class Inputs:
    """The inputs of a case, found by any of several names."""

    given: Mapping[str, Any]

    def _find(self, names: tuple[str, ...]) -> Any:
        by_name = {plain_name(key): value for key, value in self.given.items()}
        for name in names:
            if name in by_name:
                return by_name[name]
        raise MissingInput(f"none of {', '.join(names)} is given")

    def has(self, *names: str) -> bool:
        """Tell whether an input of one of these names is given."""
        try:
            self._find(names)
        except MissingInput:
            return False
        return True

    def get(self, *names: str, default: Any = MissingInput) -> Any:
        """Return an input in SI units; the default where none of the names is given."""
        if default is not MissingInput and not self.has(*names):
            return default
        found = self._find(names)
        if isinstance(found, Mapping) and "value" in found:
            return to_si(found["value"], str(found.get("unit", "1")))
        return found

    def nested(self, *names: str) -> Inputs:
        """Return a group of inputs."""
        found = self._find(names)
        assert isinstance(found, Mapping)
        return Inputs(found)


@dataclass(frozen=True)
class Rule:
    """Which quantities a function answers."""

    topic: str
    quantity: str  # pattern, searched in the quantity's text
    answers: Callable[[Inputs], Answers]


def find_answer(answers: Answers, key: str) -> Callable[[], Any] | None:
    """Return how to compute an expected value: by its name, else by a pattern over it."""
    name = re.sub(r"_any_(published|sound).*$", "", plain_name(key))
    if name in answers:
        return answers[name]
    for pattern, compute in answers.items():
        match = re.fullmatch(pattern, name)
        if match is not None and match.groups():
            return lambda: compute(*match.groups())
        if match is not None:
            return compute
    return None
