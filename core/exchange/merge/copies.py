"""Conflict copies: files that a file synchroniser left beside a document of the log."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import msgspec

from core.errors import LogError
from core.log import Document, Kind, Log, is_id
from core.log.codec import decode_document, decode_fields
from core.session import KINDS

__all__ = ["Copy", "copies_in"]

_OLDER = re.compile(r".*\.json\.format\d+(\.\d+)?$")  # kept by a migration
_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True)
class Copy:
    """One file beside a document that holds another version of it."""

    file: str  # path within the log
    kind: str
    id: str  # of the document it is a copy of
    document: Document | None  # None: it cannot be read
    fault: str = ""  # why, in one sentence


class _Prelude(msgspec.Struct):
    id: str = ""


def copies_in(log: Log) -> tuple[Copy, ...]:
    """Return the conflict copies in a log folder, whatever the synchroniser calls them.

    A copy is a file in the folder of a kind whose content has the id of a document and whose own
    name is that id with something before or behind it.

    Args:
        log: an open log.
    """
    found: list[Copy] = []
    for kind in KINDS:
        folder = log.folder / kind.folder
        if not folder.is_dir():
            continue
        for path in sorted(folder.iterdir()):
            name = path.name
            if ".json" not in name.lower() or name.startswith(".") or _OLDER.match(name):
                continue
            file = f"{kind.folder}/{name}"
            copy = None if path.is_dir() else _copy(kind, file, path.read_bytes())
            found += [copy] if copy is not None else []
    return tuple(found)


def _copy(kind: Kind[Any], file: str, data: bytes) -> Copy | None:
    """The copy that a file is; None for a document under its own name and for other files."""
    name = file.rpartition("/")[2]
    try:
        id_ = msgspec.json.decode(data.removeprefix(_BOM), type=_Prelude).id
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        id_ = ""
    if not id_:
        stem = name.partition(".json")[0]
        if is_id(stem):
            return None  # a broken document, which the log tells of itself
        return Copy(file, kind.name, "", None, f"{file} cannot be read; it is left alone.")
    if name == f"{id_}.json" or id_ not in name:
        return None
    try:
        document = decode_document(kind, decode_fields(kind, id_, data))
    except LogError as error:
        return Copy(file, kind.name, id_, None, f"{file}: {error.message}")
    return Copy(file, kind.name, id_, document)
