"""The documents of one kind: their heads in memory, the rest read from the files when asked for."""

from __future__ import annotations

import contextlib
import gc
import threading
from collections import OrderedDict
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import msgspec

from core.errors import BrokenDocumentError
from core.log.codec import Fields
from core.log.documents import Document, Kind, Problem
from core.log.durable import Stamp
from core.log.files import DocumentFiles, StampedFields
from core.log.headcache import Head, HeadCache
from core.log.ids import is_id

__all__ = ["DocumentFolder"]

_RECENT: Final = 128  # whole documents kept in memory


class DocumentFolder:
    """The documents of one kind.

    Reading may happen in any thread; writing in one. A scan does not hold up a save.

    Args:
        root: the log folder.
        kind: what is kept there.
        mark: of this writer; empty: nothing in the folder is touched.
        cache: heads decoded earlier.
    """

    def __init__(self, root: Path, kind: Kind[Any], mark: str, cache: HeadCache) -> None:
        self.kind = kind
        self._files = DocumentFiles(root, kind, mark)
        self._cache = cache
        self._scanning = threading.Lock()
        self._lock = threading.RLock()  # for the fields below
        self._heads: dict[str, Head] | None = None  # nothing until the first scan
        self._sorted: list[msgspec.Struct] | None = None
        self._meanwhile: dict[str, Head | None] = {}  # saved or gone since the last scan began
        self._recent: OrderedDict[str, tuple[Stamp, Document]] = OrderedDict()

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What was found wrong so far."""
        return self._files.problems

    def ids(self) -> list[str]:
        """Return the ids of all documents, sorted."""
        self._ensure_scanned()
        with self._lock:
            return sorted(self._heads or ())

    def heads(self) -> list[msgspec.Struct]:
        """Return the heads of all documents, sorted by id."""
        self._ensure_scanned()
        with self._lock:
            if self._sorted is None:
                heads = self._heads or {}
                self._sorted = [heads[id_][1] for id_ in sorted(heads)]
            return list(self._sorted)

    def refresh(self) -> bool:
        """Look through the folder again if it was scanned; tell whether anything changed."""
        with self._lock:
            known, problems = self._heads, self.problems
        if known is None:
            return False
        with self._scanning:
            self._scan(known)
        with self._lock:
            return self._heads != known or self.problems != problems

    def fields(self, id_: str) -> StampedFields | None:
        """Return the fields of a document; nothing if there is none.

        Raises:
            LogError: it cannot be read.
        """
        if not is_id(id_):
            return None
        try:
            return self._files.fields(id_)
        except BrokenDocumentError:
            self._note(id_, None)
            raise

    def recall(self, id_: str) -> Document | None:
        """Return a document read earlier if its file is still the same."""
        with self._lock:
            stamp, document = self._recent.get(id_, (None, None))
            if document is not None:
                self._recent.move_to_end(id_)
        return document if document is not None and self._files.stamp(id_) == stamp else None

    def document(self, id_: str, fields: Fields, stamp: Stamp) -> Document:
        """Return the document that a file of this stamp holds.

        Raises:
            BrokenDocumentError: a field does not fit.
        """
        try:
            document = self._files.document(id_, fields, stamp)
        except BrokenDocumentError:
            self._note(id_, None)
            raise
        if _is_frozen(document):
            with self._lock:
                self._recent[id_] = stamp, document
                while len(self._recent) > _RECENT:
                    self._recent.popitem(last=False)
        return document

    def write(self, id_: str, fields: Fields) -> None:
        """Write a document durably.

        Raises:
            LogError: nothing was written.
        """
        self._note(id_, self._files.write(id_, fields))

    def stop_writing(self) -> None:
        """Touch nothing in the folder from now on."""
        self._files.mark = ""

    def _ensure_scanned(self) -> None:
        """Look through the folder if that was not done yet; only one thread does."""
        if self._heads is None:
            with self._scanning:
                if self._heads is None:
                    with _uncollected():
                        self._scan({})

    def _scan(self, known: dict[str, Head]) -> None:
        """Look through the folder; read the heads that are not known for the files' stamps."""
        with self._lock:
            self._meanwhile = {}
        found = self._files.look()
        known = known or (self._cache.load(self.kind) if found else {})
        heads: dict[str, Head] = {}
        fresh = 0
        for id_, stamp in found.items():
            head = known.get(id_)
            if head is None or head[0] != stamp:
                head = self._files.head(id_)
                fresh += 1
            if head is not None:
                heads[id_] = head
        with self._lock:
            for id_, changed in self._meanwhile.items():
                _put(heads, id_, changed)
            self._heads, self._sorted = heads, None
        self._cache.keep(self.kind, heads, fresh)

    def _note(self, id_: str, head: Head | None) -> None:
        """Take in that a document was saved, or that its file is gone."""
        with self._lock:
            self._meanwhile[id_] = head
            if self._heads is not None:
                _put(self._heads, id_, head)
            self._sorted = None


@contextlib.contextmanager
def _uncollected() -> Iterator[None]:
    """Keep the cycle collector away from thousands of new values: a fifth of a scan of 5,000."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _put(heads: dict[str, Head], id_: str, head: Head | None) -> None:
    """Set a head or take it out."""
    if head is None:
        heads.pop(id_, None)
    else:
        heads[id_] = head


def _is_frozen(document: Document) -> bool:
    """Tell whether nothing inside a document can be changed by whoever has it in hand."""
    try:
        hash(document)
    except TypeError:
        return False
    return True
