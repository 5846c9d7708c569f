"""JSON lines back into a log, by id: new documents go in, what contradicts is only reported."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final, cast

import msgspec

from core.errors import InputError, LogError, NewerFormatError, NotFoundError
from core.exchange.lines_out import LINES_FORMAT, ORDER
from core.exchange.results import Conflict, Imported, Made, Rejected
from core.exchange.soundness import faults
from core.log import Document, Kind, is_id
from core.log.codec import decode_document, decode_fields
from core.session import Book, Session

__all__ = ["import_lines", "read_lines"]

_KINDS: Final = {kind.name: kind for kind in ORDER}


class _Header(msgspec.Struct):
    """The first line."""

    backtoback: int
    documents: int | None = None


@dataclass
class _Outcome:
    """What was found so far."""

    new: list[tuple[Kind[Any], Document]] = field(default_factory=list)
    there: int = 0
    rejected: list[Rejected] = field(default_factory=list)
    conflicts: list[Conflict] = field(default_factory=list)
    lines: int = 0  # documents of any kind in the file, good or not


def import_lines(book: Book, text: str, name: str, *, check_only: bool = False) -> Imported:
    """Read a whole log, or a part of one, into a log.

    A document whose id the log does not hold goes in; one that it holds with the same content is
    left alone; one with other content is reported and the log stays as it is. Every document is
    saved for itself, so that a run that was cut off is simply done again.

    Args:
        book: an open log.
        text: the whole file.
        name: what the file is called.
        check_only: save nothing.

    Raises:
        InputError: the first line is not the header of such a file.
        NewerFormatError: written by a newer version.
        LogError: the log takes nothing; what was saved before stays.
    """
    first, *rest = text.split("\n")
    header = _header(first, name)
    found = _Outcome()
    for number, line in enumerate(rest, start=2):
        if line.strip():
            _take(book, number, line, found)
    _count(header, found)
    if not check_only:
        for _, document in found.new:
            book.save(document)  # type: ignore[arg-type]  # of one of the kinds
    return _imported(found, name, check_only=check_only)


def read_lines(text: str, name: str) -> tuple[tuple[Document, ...], tuple[Rejected, ...]]:
    """Return the documents of JSON lines and the lines that are none; the log is not looked at.

    Args:
        text: the whole file.
        name: what the file is called.

    Raises:
        InputError: the first line is not the header of such a file.
        NewerFormatError: written by a newer version.
    """
    first, *rest = text.split("\n")
    header, found = _header(first, name), _Outcome()
    for number, line in enumerate(rest, start=2):
        if not line.strip():
            continue
        found.lines += 1
        try:
            found.new.append(_document(line))
        except (InputError, LogError) as error:
            found.rejected.append(Rejected(number, error.message))
    _count(header, found)
    return tuple(document for _, document in found.new), tuple(found.rejected)


def _header(line: str, name: str) -> _Header:
    try:
        header = msgspec.json.decode(line, type=_Header)
    except (msgspec.DecodeError, UnicodeEncodeError, RecursionError):
        raise InputError(f"{name} has no header of a log in its first line.") from None
    if header.backtoback > LINES_FORMAT:
        raise NewerFormatError(
            f"{name} has format {header.backtoback}, and this version reads up to {LINES_FORMAT}.",
            "A newer version of the tool reads it.",
        )
    return header


def _take(book: Book, number: int, line: str, found: _Outcome) -> None:
    """Decide about one line."""
    found.lines += 1
    try:
        kind, document = _document(line)
        held = _held(book, kind, document.id, found)
    except (InputError, LogError) as error:
        found.rejected.append(Rejected(number, error.message))
        return
    if held is None:
        found.new.append((kind, document))
    elif held == document:
        found.there += 1
    else:
        what = f"{kind.name} {_called(document)} ({document.id})"
        found.conflicts.append(Conflict(what, f"line {number}: {_difference(held, document)}"))


def _called(document: Document) -> str:
    return str(getattr(document, "label", "") or getattr(document, "name", ""))


def _difference(held: Document, document: Document) -> str:
    names = [n for n in held.__struct_fields__ if getattr(held, n) != getattr(document, n)]
    shown = ", ".join(names[:4]) + (" ..." if len(names) > 4 else "")
    return f"the file and the log differ in {shown}; the log stays as it is."


def _held(book: Book, kind: Kind[Any], id_: str, found: _Outcome) -> Document | None:
    """Return the document of that id in the log, or earlier in the file."""
    for other, document in found.new:
        if other is kind and document.id == id_:
            return document
    try:
        held: Document = book.log.get(kind.type, id_)
    except NotFoundError:
        return None
    return held


def _document(line: str) -> tuple[Kind[Any], Document]:
    """Return the document of one line.

    Raises:
        InputError: the line is not one, or what it says cannot be.
        LogError: a field does not fit its kind.
    """
    try:
        fields = msgspec.json.decode(line)
    except (msgspec.DecodeError, UnicodeEncodeError, RecursionError):
        raise InputError("the line is not JSON; it may be cut off.") from None
    if not isinstance(fields, dict) or fields.get("kind") not in _KINDS:
        kinds = ", ".join(_KINDS)
        raise InputError(f"the line has no kind of document that I know ({kinds}).")
    kind = _KINDS[fields.pop("kind")]
    id_ = fields.get("id")
    if not isinstance(id_, str) or not is_id(id_):
        raise InputError(f"the {kind.name} has no id that can be a file name.")
    document = decode_document(cast(Kind[Document], kind), _today(kind, id_, fields))
    if isinstance(document, Session):
        wrong = faults(document)
        if wrong:
            raise InputError(f"session {document.label}: {wrong[0]}.")
    return kind, document


def _today(kind: Kind[Any], id_: str, fields: dict[str, Any]) -> dict[str, Any]:
    """Return the fields in today's format."""
    fields.setdefault("format", kind.version)
    return decode_fields(kind, id_, msgspec.json.encode(fields))


def _count(header: _Header, found: _Outcome) -> None:
    """Turn down a file that holds fewer or more documents than its first line says."""
    if header.documents not in (None, found.lines):
        reason = f"it tells of {header.documents} documents and {found.lines} follow: cut off?"
        found.rejected.append(Rejected(1, reason))


def _imported(found: _Outcome, name: str, *, check_only: bool) -> Imported:
    names: dict[str, list[str]] = {kind.name: [] for kind in ORDER}
    for kind, document in found.new:
        names[kind.name].append(_called(document))
    return Imported(
        file=name,
        format="lines",
        went_in=len(found.new),
        there=found.there,
        rejected=tuple(found.rejected),
        conflicts=tuple(found.conflicts),
        contradicting=len(found.conflicts),
        sessions_new=tuple(names["session"]),
        made=Made(tuple(names["machine"]), tuple(names["place"]), tuple(names["part"])),
        checked_only=check_only,
    )
