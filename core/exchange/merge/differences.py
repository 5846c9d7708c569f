"""What two versions of a document say otherwise, field by field, in words side by side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec

from core.log import Document
from core.session import Session

__all__ = ["FieldDifference", "differences"]

_NOTHING = "not there"
_LONGEST = 60  # letters shown of a value


@dataclass(frozen=True)
class FieldDifference:
    """One field that two versions have otherwise."""

    field: str  # as a path: ``attempts 4 value``
    here: str  # in this log
    there: str  # in the other
    top: str  # name of the document's field it lies in


def differences(here: Document, there: Document) -> tuple[FieldDifference, ...]:
    """Return what two versions of a document say otherwise; the trail only by its length.

    Args:
        here: the version of this log.
        there: the other one.
    """
    found: list[FieldDifference] = []
    for name in here.__struct_fields__:
        one, other = getattr(here, name), getattr(there, name)
        if one == other or name == "id":
            continue
        if name == "trail" and isinstance(here, Session):
            counts = (f"{len(one)} lines", f"{len(other)} lines")
            found.append(FieldDifference("trail", *counts, "trail"))
            continue
        a, b = (msgspec.to_builtins(value, str_keys=True) for value in (one, other))
        told = _differing(name.replace("_", " "), a, b)
        found += (FieldDifference(*words, name) for words in told)
    return tuple(found)


def _differing(path: str, one: Any, other: Any) -> Iterator[tuple[str, str, str]]:
    if isinstance(one, dict) and isinstance(other, dict):
        for key in sorted({*one, *other}):
            a, b = one.get(key), other.get(key)
            if a != b:
                yield from _differing(f"{path} {key.replace('_', ' ')}", a, b)
    elif isinstance(one, (list, tuple)) and isinstance(other, (list, tuple)):
        for index in range(max(len(one), len(other))):
            a = one[index] if index < len(one) else None
            b = other[index] if index < len(other) else None
            if a != b:
                yield from _differing(f"{path} {_place(a, b, index)}", a, b)
    else:
        yield (path, _words(one), _words(other))


def _place(a: Any, b: Any, index: int) -> str:
    """What a list's element is called: its own number where it has one, else its place."""
    for one in (a, b):
        if isinstance(one, dict) and isinstance(one.get("n"), int):
            return str(one["n"])
        if isinstance(one, dict) and isinstance(one.get("rule"), str):
            return str(one["rule"]).replace("_", " ")
    return str(index + 1)


def _words(value: Any) -> str:
    if value is None or value in ("", [], (), {}):
        return _NOTHING
    if isinstance(value, dict):
        value = ", ".join(
            f"{k} {v}" for k, v in value.items() if not isinstance(v, (dict, list, tuple))
        )
    line = " ".join(str(value).split())
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1]}…"
