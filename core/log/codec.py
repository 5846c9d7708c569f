"""Between documents and the bytes of their files: strict both ways, old formats brought up."""

from __future__ import annotations

import functools
import logging
from collections.abc import Callable
from typing import Any, Final, cast

import msgspec

from core.errors import BrokenDocumentError, NewerFormatError
from core.log.documents import D, Document, Kind
from core.log.faults import name_entry, reason_and_field

__all__ = [
    "LeftDocumentError",
    "PreparedFields",
    "decode_document",
    "decode_fields",
    "decode_head",
    "encode",
    "file_name",
    "format_of",
    "to_fields",
]

Fields = dict[str, Any]
"""The fields of a document as JSON has them, without its format number."""

_BOM: Final = b"\xef\xbb\xbf"  # some editors put it before UTF-8 text
_UNREADABLE: Final = (msgspec.DecodeError, UnicodeDecodeError, RecursionError)
_CLUMSY: Final = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError)

_logger = logging.getLogger(__name__)


class LeftDocumentError(BrokenDocumentError):
    """A file that is no document as it is, and of which a person had better judge: it stays."""


class PreparedFields(Fields):
    """The fields of a document that is about to be saved, and what its file will hold."""

    def __init__(self, fields: Fields, data: bytes, head: msgspec.Struct) -> None:
        super().__init__(fields)
        self.data = data
        self.head = head


class _Prelude(msgspec.Struct):
    """What every document file says of itself."""

    format: int
    id: str = ""


_PRELUDE: Final = msgspec.json.Decoder(_Prelude)


def file_name(kind: Kind[Any], id_: str) -> str:
    """Return the path within the log of one document."""
    return f"{kind.folder}/{id_}.json"


def to_fields(kind: Kind[D], document: D) -> PreparedFields:
    """Return the fields of a document, after making sure that its file will read back the same.

    Raises:
        BrokenDocumentError: a value does not fit its type, or does not survive being written.
    """
    name = file_name(kind, document.id)
    try:
        fields = msgspec.to_builtins(document, str_keys=True, order="deterministic")
        data = encode(kind, fields)
        back = decode_document(kind, decode_fields(kind, document.id, data))
    except LeftDocumentError as error:
        raise BrokenDocumentError(f"Nothing was saved. {error.message}", name) from error
    except (BrokenDocumentError, TypeError, ValueError) as error:
        field = getattr(error, "field", "")
        reason = f"{field or 'a field'} does not hold what it should"
        raise BrokenDocumentError(f"{name} was not saved: {reason}.", name, field) from error
    if back != document:
        field = _first_difference(document, back)
        raise BrokenDocumentError(
            f"{name} was not saved: {field} would not read back the same.", name, field
        )
    return PreparedFields(fields, data, decode_head(kind, document.id, data))


def encode(kind: Kind[Any], fields: Fields) -> bytes:
    """Return the text of a document's file: format and id first, indented, UTF-8."""
    whole = {"format": kind.version, "id": fields["id"], **fields}
    return msgspec.json.format(msgspec.json.encode(whole), indent=2) + b"\n"


def format_of(kind: Kind[Any], id_: str, data: bytes) -> int:
    """Return the format of a document file after checking that and its id.

    Raises:
        BrokenDocumentError: not a document file, or one of another id.
        NewerFormatError: written by a newer version.
    """
    name = file_name(kind, id_)
    try:
        prelude = _PRELUDE.decode(data.removeprefix(_BOM))
    except _UNREADABLE as error:
        raise _broken(name, error, data) from error
    if prelude.format > kind.version:
        raise NewerFormatError(
            f"{name} has format {prelude.format}, and this version reads up to {kind.version}.",
            "It is left untouched. A newer version of the tool opens it.",
        )
    if prelude.format < 1:
        said = f"there is no format {prelude.format}"
        raise BrokenDocumentError(f"{name} cannot be read: {said}.", name, "format")
    if prelude.id and id_ != prelude.id and id_.startswith(prelude.id):
        raise LeftDocumentError(
            f"{name} looks like a copy that was made of {prelude.id}.json.", name, "id"
        )
    if prelude.id != id_:
        said = f"the id in it is {prelude.id[:100]!r}" if prelude.id else "id is missing"
        raise BrokenDocumentError(f"{name} cannot be read: {said}.", name, "id")
    return prelude.format


def decode_fields(kind: Kind[Any], id_: str, data: bytes) -> Fields:
    """Return the fields in a document file, in today's format.

    Raises:
        BrokenDocumentError: it cannot be read; names file and field.
        NewerFormatError: written by a newer version.
    """
    found = format_of(kind, id_, data)
    try:
        fields: Fields = msgspec.json.decode(data.removeprefix(_BOM))
    except _UNREADABLE as error:
        raise _broken(file_name(kind, id_), error, data) from error
    del fields["format"]
    return fields if found == kind.version else _brought_up(kind, id_, fields, found)


def decode_document(kind: Kind[D], fields: Fields) -> D:
    """Return the document that has these fields.

    Raises:
        BrokenDocumentError: a field does not fit its type; names file and field.
        LeftDocumentError: the fields fit and what they tell cannot be.
    """
    try:
        return _sound(kind, msgspec.convert(fields, kind.type, str_keys=True))
    except _UNREADABLE as error:
        name = file_name(kind, str(fields.get("id")))
        reason, field = reason_and_field(error)
        exact = name_entry(fields, field, functools.partial(_fits, kind)) if field else field
        reason = reason.replace(field, exact, 1) if field else reason
        raise BrokenDocumentError(f"{name} cannot be read: {reason}.", name, exact) from error


def decode_head(kind: Kind[Any], id_: str, data: bytes) -> msgspec.Struct:
    """Return the head of a document: straight from the bytes of its file, or as the kind makes it.

    Raises:
        BrokenDocumentError: it cannot be read; names file and field.
        NewerFormatError: written by a newer version.
        TypeError: the document is good and the head's declaration does not fit it.
    """
    usual = f'{{\n  "format": {kind.version},\n  "id": "{id_}"'.encode()
    source: type[msgspec.Struct] = kind.head if kind.make_head is None else kind.type
    try:
        if data.startswith(usual):
            found = _decoder(source).decode(data)
        else:
            found = msgspec.convert(decode_fields(kind, id_, data), source, str_keys=True)
    except _UNREADABLE as error:
        decode_document(kind, decode_fields(kind, id_, data))
        raise TypeError(f"Kind {kind.name}: the head does not fit the document: {error}") from error
    if kind.make_head is None:
        return found
    return _made_head(kind, kind.make_head, _sound(kind, cast(Document, found)))


def _sound(kind: Kind[Any], document: D) -> D:
    """Return the document.

    Raises:
        LeftDocumentError: what it tells cannot be.
    """
    said = kind.unsound(document) if kind.unsound is not None else ""
    if said:
        name = file_name(kind, document.id)
        raise LeftDocumentError(f"{name} cannot be right: {said}.", name)
    return document


@functools.cache
def _decoder(type_: type[msgspec.Struct]) -> msgspec.json.Decoder[msgspec.Struct]:
    """Return the decoder of a type from a document file, made once; it passes over the format."""
    if issubclass(type_, Document):
        type_ = msgspec.defstruct(
            type_.__name__, [("format", int, 0)], bases=(type_,), kw_only=True, frozen=True
        )
    return msgspec.json.Decoder(type_)


def _made_head(
    kind: Kind[Any], make_head: Callable[[Any], msgspec.Struct], document: Any
) -> msgspec.Struct:
    """Return the head that a kind makes of a document; one it cannot make is not worth a crash."""
    try:
        return make_head(document)
    except _CLUMSY as error:
        _logger.exception("no head of %s %s", kind.name, document.id)
        name = file_name(kind, document.id)
        raise LeftDocumentError(
            f"{name} cannot be listed ({type(error).__name__}).", name
        ) from error


def _brought_up(kind: Kind[Any], id_: str, fields: Fields, found: int) -> Fields:
    """Return the fields of an older format in today's; they are sure to fit the type."""
    name = file_name(kind, id_)
    try:
        for migration in kind.migrations[found - 1 :]:
            fields = migration(fields)
        decode_document(kind, fields)
    except (BrokenDocumentError, *_CLUMSY) as error:
        field = getattr(error, "field", "")
        about = f" ({field})" if field else ""
        raise LeftDocumentError(
            f"{name} cannot be brought from format {found} to {kind.version}{about}.", name, field
        ) from error
    return fields


def _fits(kind: Kind[Any], fields: Fields) -> bool:
    """Tell whether fields make a document."""
    try:
        msgspec.convert(fields, kind.type, str_keys=True)
    except _UNREADABLE:
        return False
    return True


def _broken(name: str, error: Exception, data: bytes) -> BrokenDocumentError:
    """Return the refusal of a file that is not what it should be."""
    if not data.strip():
        return BrokenDocumentError(f"{name} cannot be read: it is empty.", name)
    reason, field = reason_and_field(error)
    return BrokenDocumentError(f"{name} cannot be read: {reason}.", name, field)


def _first_difference(one: Document, other: Document) -> str:
    """Return the name of the first field in which two documents differ."""
    names = one.__struct_fields__
    return next((n for n in names if getattr(one, n) != getattr(other, n)), names[0])
