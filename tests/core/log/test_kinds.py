"""A kind of document that contradicts itself is refused where it is declared."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from core.log import Document, Kind
from tests.core.log.samples import Visit, VisitHead


class Loose(Document, kw_only=True, frozen=True, forbid_unknown_fields=False):
    """Takes any field."""


class Formatted(Document, kw_only=True, frozen=True):
    """Has a field that the file needs for itself."""

    format: str


class NoId(msgspec.Struct, frozen=True):
    """A head without id."""

    label: str = ""


class OtherField(msgspec.Struct, frozen=True):
    """A head with a field that the document has not."""

    id: str
    colour: str = ""


class Demanding(msgspec.Struct, frozen=True):
    """A head that wants a field which a document leaves out at its default."""

    id: str
    label: str


class OtherDefault(msgspec.Struct, frozen=True):
    """A head that would show something that the document does not hold."""

    id: str
    label: str = "none"


class StrictHead(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A head that would not pass over the rest of the document."""

    id: str


def _same(fields: dict[str, Any]) -> dict[str, Any]:
    return fields


GOOD: dict[str, Any] = {"name": "visit", "folder": "visits", "type": Visit, "head": VisitHead}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"folder": "../visits"}, "lower-case letters"),
        ({"name": "Visit"}, "lower-case letters"),
        ({"version": 2}, "needs 1 migrations"),
        ({"migrations": (_same,)}, "needs 0 migrations"),
        ({"type": VisitHead}, "not a Document"),
        ({"type": Loose}, "forbid unknown fields"),
        ({"type": Formatted}, "'format' is taken"),
        ({"head": NoId}, "no id"),
        ({"head": OtherField}, "no field colour"),
        ({"head": Demanding}, "needs the document's default"),
        ({"head": OtherDefault}, "another default"),
        ({"head": StrictHead}, "ignore unknown fields"),
    ],
)
def test_a_contradiction_is_named(change: dict[str, Any], said: str) -> None:
    with pytest.raises(TypeError, match=said):
        Kind(**{**GOOD, **change})


def test_a_sound_declaration_is_taken() -> None:
    assert Kind(**{**GOOD, "version": 2, "migrations": (_same,)}).version == 2
