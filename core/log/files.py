"""The files of one kind of document: read strictly, written durably, broken ones put aside."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from core.errors import BrokenDocumentError, LogError, NewerFormatError
from core.log.aside import copy_aside, keep_beside, move_aside
from core.log.codec import (
    Fields,
    LeftDocumentError,
    PreparedFields,
    decode_document,
    decode_fields,
    decode_head,
    encode,
    file_name,
    format_of,
)
from core.log.documents import Document, Kind, Problem
from core.log.durable import (
    Stamp,
    explain,
    make_folder,
    read_stamped,
    stamp_of,
    sweep,
    write_durably,
)
from core.log.headcache import Head
from core.log.listing import list_folder

__all__ = ["DocumentFiles", "StampedFields"]


T = TypeVar("T")

_logger = logging.getLogger(__name__)


class StampedFields(dict[str, Any]):
    """The fields of a document with the stamp of the file they came from."""

    def __init__(self, fields: Fields, stamp: Stamp) -> None:
        super().__init__(fields)
        self.stamp = stamp


class DocumentFiles:
    """The files of one kind in their folder.

    Args:
        root: the log folder.
        kind: what is kept there.
        mark: of this writer, for its temporary files; empty: nothing in the folder is touched.
    """

    def __init__(self, root: Path, kind: Kind[Any], mark: str) -> None:
        self.kind = kind
        self._root = root
        self._folder = root / kind.folder
        self.mark = mark
        self._lock = threading.RLock()  # whoever moves or writes a file holds it
        self._known: dict[str, Stamp] = {}  # files whose whole content was read or written
        self._left: dict[str, tuple[Stamp | None, Problem]] = {}  # by id or path, still there
        self._moved: list[Problem] = []
        self._unsure: dict[str, bytes] = {}  # what was being written when an error came, by id

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What was found wrong so far, in the order in which it was found."""
        with self._lock:
            return (*self._moved, *(problem for _, problem in self._left.values()))

    def look(self) -> dict[str, Stamp]:
        """Return id and stamp of every document that is not known to be unreadable."""
        try:
            listing = list_folder(self._folder)
        except OSError as error:
            name = self.kind.folder
            said = f"The folder {name} cannot be looked through ({error.strerror})."
            self._left = {name: (None, Problem(name, "", said))}
            return {}
        if self.mark:
            sweep(self._folder, listing.hidden, self.mark)
        found = listing.documents
        with self._lock:
            bad = {id_: entry for id_, entry in self._left.items() if entry[0] == found.get(id_, 0)}
            self._left = {**bad, **{p.file: (None, p) for p in listing.problems}}
        for id_ in bad:
            del found[id_]
        return found

    def stamp(self, id_: str) -> Stamp | None:
        """Return the stamp of a document's file now; nothing if it cannot be had."""
        try:
            return stamp_of(self._path(id_).stat())
        except OSError:
            return None

    def head(self, id_: str) -> Head | None:
        """Return the head of a document; nothing, and a problem, if it cannot be read."""
        try:
            found = self._read(id_)
            if found is None:
                return None
            data, stamp = found
            return stamp, self._checked(id_, stamp, lambda: decode_head(self.kind, id_, data))
        except LogError:
            return None

    def fields(self, id_: str) -> StampedFields | None:
        """Return the fields of a document in today's format; nothing if there is none.

        Raises:
            BrokenDocumentError: it cannot be read, and was put aside.
            LogError: it cannot be read, and is left where it is.
        """
        found = self._read(id_)
        if found is None:
            return None
        data, stamp = found
        fields = self._checked(id_, stamp, lambda: decode_fields(self.kind, id_, data))
        return StampedFields(fields, stamp)

    def document(self, id_: str, fields: Fields, stamp: Stamp) -> Document:
        """Return the document that a file of this stamp holds, as its type.

        Raises:
            BrokenDocumentError: a field does not fit, and the file was put aside.
        """
        document: Document = self._checked(id_, stamp, lambda: decode_document(self.kind, fields))
        self._known[id_] = stamp
        return document

    def write(self, id_: str, fields: Fields) -> Head:
        """Write a document durably, if its bytes changed; return its head.

        Whatever the file held that this log did not read or write itself is kept.

        Raises:
            LogError: nothing was written.
        """
        data, head = _file_of(self.kind, id_, fields)
        path = self._path(id_)
        with self._lock:
            try:
                before = read_stamped(path) if path.exists() else None
                if before is None or before[0] != data or id_ in self._unsure:
                    self._make_way(id_, before)
                    self._unsure[id_] = data
                    write_durably(path, data, self.mark)
                    del self._unsure[id_]
                stamp = stamp_of(path.stat())
            except OSError as error:
                raise explain(error, f"{file_name(self.kind, id_)} was not saved") from error
            self._known[id_] = stamp
        return stamp, head

    def _path(self, id_: str) -> Path:
        """Return where a document is."""
        return self._folder / f"{id_}.json"

    def _read(self, id_: str) -> tuple[bytes, Stamp] | None:
        """Return what is in a document's file, and its stamp; nothing if there is no file."""
        try:
            return read_stamped(self._path(id_))
        except FileNotFoundError:
            return None
        except OSError as error:
            name = file_name(self.kind, id_)
            refusal = LogError(f"{name} cannot be read ({error.strerror}).")
            self._leave(id_, self.stamp(id_), refusal)
            raise refusal from error

    def _checked(self, id_: str, stamp: Stamp, decode: Callable[[], T]) -> T:
        """Return what was decoded; see to the file if it cannot be."""
        try:
            return decode()
        except (NewerFormatError, LeftDocumentError) as error:
            self._leave(id_, stamp, error)
            raise
        except BrokenDocumentError as error:
            self._put_aside(id_, stamp, error)
            raise

    def _leave(self, id_: str, stamp: Stamp | None, error: LogError) -> None:
        """Note that a file is bad and stays where it is."""
        field = getattr(error, "field", "")
        sentence = f"{error.message} It is left where it is."
        with self._lock:
            self._left[id_] = stamp, Problem(file_name(self.kind, id_), field, sentence)

    def _put_aside(self, id_: str, stamp: Stamp, error: BrokenDocumentError) -> None:
        """Move a broken file out of the way, unless another has come in its place."""
        with self._lock:
            if self.stamp(id_) != stamp:
                return
            try:
                place = move_aside(self._root, self._path(id_)) if self.mark else ""
            except OSError as failure:
                _logger.warning("%s cannot be put aside: %s", error.file, failure)
                place = ""
            if not place:
                self._leave(id_, stamp, error)
                return
            error.hint = f"It was put aside as {place}."
            self._moved.append(Problem(error.file, error.field, f"{error.message} {error.hint}"))

    def _make_way(self, id_: str, before: tuple[bytes, Stamp] | None) -> None:
        """See to it that nothing is lost when a document's file is replaced."""
        if before is None:
            if not self._folder.is_dir():
                make_folder(self._folder)
            return
        data, stamp = before
        try:
            found = format_of(self.kind, id_, data)
            if self._known.get(id_) != stamp:
                decode_document(self.kind, decode_fields(self.kind, id_, data))
        except (NewerFormatError, LeftDocumentError):
            raise
        except BrokenDocumentError as error:
            self._put_aside(id_, stamp, error)
            if self._path(id_).exists():
                raise
            return
        if self._known.get(id_, stamp) != stamp and data != self._unsure.get(id_):
            self._keep_other(id_, data)
        if found < self.kind.version:
            keep_beside(self._path(id_), data, found, self.mark)

    def _keep_other(self, id_: str, data: bytes) -> None:
        """Keep what another program made of a document since this log read or wrote it."""
        place = copy_aside(self._root, self._path(id_), data, self.mark)
        name = file_name(self.kind, id_)
        said = f"{name} was changed by another program; that version is kept as {place}."
        self._moved.append(Problem(name, "", said))


def _file_of(kind: Kind[Any], id_: str, fields: Fields) -> tuple[bytes, msgspec.Struct]:
    """Return what the file of a document will hold, and the head in it."""
    if isinstance(fields, PreparedFields):
        return fields.data, fields.head
    data = encode(kind, fields)
    return data, decode_head(kind, id_, data)
