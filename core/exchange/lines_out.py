"""The whole log as JSON lines: a header, then one document per line.

The first line is ``{"backtoback": 1, "documents": N}``: the version of this format and how many
lines follow. Every other line is one document with the fields of its file in the log, and before
them ``kind`` (``machine``, ``place``, ``part``, ``session``, ``bench-reading``, ``gauge``,
``trace`` or ``interval``), ``format`` (the version of that kind) and ``id``. Fields at their
default are left out. Text is UTF-8, line ends are ``\\n``. What sessions refer to stands before
them. The files of recordings are not in it: they are kept beside the log, in ``traces``.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

import msgspec

from core.bench import BENCH_KIND, GAUGE_KIND
from core.log import Kind
from core.session import KINDS, PLACE_KIND, SESSION_KIND, Book
from core.setup import INTERVAL_KIND, MACHINE_KIND, PART_KIND
from core.trace import TRACE_KIND

__all__ = ["LINES_FORMAT", "ORDER", "export_lines", "line_of_document"]

LINES_FORMAT: Final = 1
"""Version of the format that is written, and the newest that is read."""

ORDER: Final = (
    MACHINE_KIND,
    PLACE_KIND,
    PART_KIND,
    SESSION_KIND,
    BENCH_KIND,
    GAUGE_KIND,
    TRACE_KIND,
    INTERVAL_KIND,
)
"""Kinds in the order they are written, so that what is referred to comes first."""


def export_lines(book: Book) -> Iterator[bytes]:
    """Yield the lines of the whole log, each with its line end.

    Broken documents are left out; they are among ``book.log.problems`` afterwards.
    """
    documents = [(kind, document) for kind in ORDER for document in book.log.all(kind.type)]
    header = {"backtoback": LINES_FORMAT, "documents": len(documents)}
    yield msgspec.json.encode(header) + b"\n"
    for kind, document in documents:
        yield line_of_document(kind, document)


def line_of_document(kind: Kind[Any], document: msgspec.Struct) -> bytes:
    """Return one document as a line."""
    fields = msgspec.to_builtins(document, str_keys=True, order="deterministic")
    whole = {"kind": kind.name, "format": kind.version, "id": fields.pop("id"), **fields}
    return msgspec.json.encode(whole) + b"\n"


def _check_order() -> None:
    if set(ORDER) != set(KINDS):
        raise TypeError("A kind of document is not in the order of the export.")


_check_order()
