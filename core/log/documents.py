"""What the log keeps: the base of all documents, one row per kind of document, problems found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

import msgspec

from core.log.ids import is_id

__all__ = ["D", "Document", "Kind", "Problem"]


class Document(
    msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True
):
    """Base of every document; a room above adds its fields.

    What is read must fit the types exactly. Mappings are written with sorted keys, so the order
    of a mapping's entries is not kept; a tuple's is.
    """

    id: str
    """Name of the document and of its file, see `new_id`."""


D = TypeVar("D", bound=Document)
StructType = type[msgspec.Struct]


@dataclass(frozen=True)
class Kind(Generic[D]):
    """One kind of document, declared once by the room that owns it.

    Raises:
        TypeError: the declaration contradicts itself; the sentence says how.
    """

    name: str
    """What a person calls one of them: ``session``."""
    folder: str
    """Folder within the log: ``sessions``."""
    type: type[D]
    """The whole document, frozen and strict."""
    head: StructType
    """The few fields that a list needs, under the same names; decoded without the rest."""
    version: int = 1
    """Format version that is written today."""
    migrations: tuple[Callable[[dict[str, Any]], dict[str, Any]], ...] = ()
    """``migrations[i]`` takes the fields of format i+1 to format i+2 and touches nothing else."""
    make_head: Callable[[D], msgspec.Struct] | None = None
    """Works the head out of the whole document, where it needs more than some of its fields."""
    head_edition: str = ""
    """Another text whenever ``make_head`` would come to another head: cached ones are then void."""

    unsound: Callable[[D], str] | None = None
    """Says what a document of the right types tells that cannot be, or nothing: such a file is
    neither read nor written. It must stay true of all that was ever saved."""

    def __post_init__(self) -> None:
        for complaint in (_unfit_name(self), _unfit_type(self), _unfit_head(self)):
            if complaint:
                raise TypeError(f"Kind {self.name}: {complaint}.")


@dataclass(frozen=True)
class Problem:
    """Something in the log that a person should know of."""

    file: str
    """Path within the log, with forward slashes: ``sessions/20260412-083000-k7x2m9qa.json``."""
    field: str
    """Field that is wrong, such as ``attempts[3].value``; empty when it is not about a field."""
    sentence: str
    """What is the matter and what was done about it, in one line."""


def _unfit_name(kind: Kind[Any]) -> str:
    """Return what is wrong with the names and numbers of a declaration, or nothing."""
    if not is_id(kind.folder) or not is_id(kind.name):
        return "name and folder are lower-case letters, digits, '-' and '_'"
    if len(kind.migrations) != kind.version - 1:
        return f"format {kind.version} needs {kind.version - 1} migrations"
    return ""


def _unfit_type(kind: Kind[Any]) -> str:
    """Return what is wrong with the document type, or nothing."""
    config = kind.type.__struct_config__
    if not issubclass(kind.type, Document):
        return "the type is not a Document"
    if not (config.frozen and config.forbid_unknown_fields):
        return "the type must be frozen and forbid unknown fields"
    if "format" in kind.type.__struct_encode_fields__:
        return "the field name 'format' is taken"
    return ""


def _unfit_head(kind: Kind[Any]) -> str:
    """Return how the head contradicts the document, or nothing.

    A field that a document leaves out at its default must have the same default in the head, else
    good documents would be taken for broken ones.
    """
    whole = {field.encode_name: field for field in msgspec.structs.fields(kind.type)}
    heads = {field.encode_name: field for field in msgspec.structs.fields(kind.head)}
    if kind.head.__struct_config__.forbid_unknown_fields:
        return "the head must ignore unknown fields"
    if "id" not in heads:
        return "the head has no id"
    if kind.make_head is not None:
        return ""
    for name, head in heads.items():
        if name not in whole:
            return f"the document has no field {name}"
        if head.required and not whole[name].required:
            return f"the head's field {name} needs the document's default"
        default, other = whole[name].default, head.default
        if type(default) is type(other) and default != other:
            return f"the head's field {name} has another default than the document's"
    return ""
