"""The log: typed documents by id, saved one by one, by one writer at a time."""

from __future__ import annotations

import random
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import Any, Self, cast

from core.clock import Clock, local_now
from core.errors import (
    BrokenDocumentError,
    LogError,
    LogFolderError,
    LogReadOnlyError,
    NotFoundError,
)
from core.log.aside import ASIDE_FOLDER, copy_aside, move_aside
from core.log.codec import Fields, encode, file_name, to_fields
from core.log.documents import D, Document, Kind, Problem
from core.log.durable import explain, sweep, writer_mark
from core.log.folder import DocumentFolder
from core.log.headcache import HeadCache
from core.log.ids import is_id
from core.log.lock import Owner
from core.log.opening import Opened, open_folder
from core.log.store import DocumentBase

__all__ = ["Log"]


class Log:
    """An open log; made by `Log.open`.

    Reading may happen in any thread, saving in one. What is handed out shares nothing with what
    is kept, so nobody can change the log except by `save`.
    """

    def __init__(self, folder: Path, kinds: Sequence[Kind[Any]], opened: Opened) -> None:
        self.folder = folder
        self.id = opened.id
        """Name of the log, the same in all its copies; empty if ``log.json`` cannot be read."""
        self.read_only = opened.lock is None
        self.owner: Owner | None = opened.owner
        """Who writes to the log, when that is not us."""
        self.read_only_reason = opened.reason
        """One sentence that says why nothing can be saved; empty if it can."""
        self.read_only_hint = opened.hint
        """What to do about it; empty if there is nothing to do."""
        self._lock = opened.lock
        self._problems = tuple(opened.problems)
        self._device = folder.stat().st_dev
        mark = "" if self.read_only else writer_mark()
        cache = HeadCache(folder, self.id)
        self._kinds = {kind.type: kind for kind in kinds}
        self._folders = {kind.name: DocumentFolder(folder, kind, mark, cache) for kind in kinds}
        self._base = DocumentBase(self._folders)

    @classmethod
    def open(
        cls,
        folder: Path,
        kinds: Sequence[Kind[Any]],
        *,
        clock: Clock = local_now,
        read_only: bool = False,
        create: bool = True,
        parents: bool = False,
        rng: random.Random | None = None,
    ) -> Self:
        """Open a log; only its ``log.json`` is read, documents are when they are asked for.

        When another process writes to it, or the disk takes nothing, it is opened to read only:
        see ``read_only``, ``read_only_reason`` and ``owner``.

        Args:
            folder: the log folder.
            kinds: every kind of document that will be asked for.
            clock: tells the time.
            read_only: write nothing, whether or not one could.
            create: make the log if it is missing.
            parents: make the folders above it as well.
            rng: source of the tail of a new log's id; the system's own when left out.

        Raises:
            LogFolderError: missing, not a log, or no permission.
            NewerFormatError: written by a newer version.
            LogFullError: there is no room to make it.
        """
        folder = folder.absolute()  # it stays the same when the process changes its own folder
        names = [kind.folder for kind in kinds]
        if len({*names}) < len(names):
            raise TypeError("A log cannot have two kinds in one folder, or a kind twice.")
        opened = open_folder(
            folder, names, clock, rng, read_only=read_only, create=create, parents=parents
        )
        if opened.lock is not None and opened.lock.was_stale:
            _sweep_all(folder, names)
        return cls(folder, kinds, opened)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What was found wrong so far: with the folder, and in the kinds that were read."""
        found = (problem for folder in self._folders.values() for problem in folder.problems)
        return (*self._problems, *found)

    def get(self, type_: type[D], id: str) -> D:  # noqa: A002 - the word for it
        """Return a document.

        Raises:
            NotFoundError: there is none of this id.
            BrokenDocumentError: it cannot be read; names file and field. It was put aside.
            NewerFormatError: written by a newer version; left untouched.
        """
        kind, folder = self._of(type_)
        recalled = folder.recall(id)
        if recalled is not None:
            return cast(D, recalled)
        stored = self._base.documents(kind.name).take(id)
        if stored is None:
            raise NotFoundError(f"There is no {kind.name} {id!r} in the log.")
        return cast(D, folder.document(id, stored, stored.stamp))

    def all(self, type_: type[D]) -> list[D]:
        """Return all documents of a type, sorted by id; broken ones become problems."""
        found = []
        for id_ in self.ids(type_):
            try:
                found.append(self.get(type_, id_))
            except (LogError, NotFoundError):
                continue  # it is among the problems now, or was removed by another program
        return found

    def heads(self, kind: Kind[Any] | type[Document]) -> list[Any]:
        """Return the head of every document of a kind, sorted by id.

        A document whose head is good and whose rest is broken is among them until it is read.
        """
        return self._of(kind.type if isinstance(kind, Kind) else kind)[1].heads()

    def ids(self, type_: type[Document]) -> list[str]:
        """Return the ids of all documents of a type, sorted."""
        return self._of(type_)[1].ids()

    def save(self, *documents: Document) -> None:
        """Save those documents that changed, in this order; return when they are on the disk.

        Each is saved wholly or not at all. When one is refused, those before it are saved and
        those after it are not.

        Raises:
            LogFullError: the disk is full; what was saved before is untouched.
            LogReadOnlyError: the log is open to read only.
            BrokenDocumentError: a document would not read back the same; nothing is saved.
            NewerFormatError: the file is of a newer format and stays as it is.
        """
        self._check_writable()
        for kind, id_, fields in [self._prepared(document) for document in documents]:
            self._base.documents(kind.name).put(id_, fields)

    def set_aside(self, document: Document) -> str:
        """Keep a version of a document that is not to be the one in the log; return where.

        Raises:
            LogError: it cannot be kept.
        """
        self._check_writable()
        kind, id_, fields = self._prepared(document)
        file = self.folder / kind.folder / f"{id_}.json"
        try:
            return copy_aside(self.folder, file, encode(kind, fields), writer_mark())
        except OSError as error:
            raise explain(error, f"{file_name(kind, id_)} was not kept aside") from error

    def move_aside(self, file: str) -> str:
        """Move a file of the log, by its path in it, out of the way; return where it is now.

        Raises:
            LogError: it cannot be moved.
        """
        self._check_writable()
        try:
            return move_aside(self.folder, self.folder / file)
        except OSError as error:
            raise explain(error, f"{file} was not put aside") from error

    def refresh(self) -> bool:
        """Look at the files again; tell whether anything changed in what was read."""
        changed = [folder.refresh() for folder in self._folders.values()]
        return any(changed)

    def close(self) -> None:
        """Give the log back to other writers; everything was saved when `save` returned."""
        if self._lock is not None:
            self._lock.release()
        self._stop_writing("The log is closed.", "")

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _of(self, type_: type[Document]) -> tuple[Kind[Any], DocumentFolder]:
        """Return the kind of a type and its folder."""
        kind = self._kinds.get(type_)
        if kind is None:
            raise TypeError(f"The log was opened without a kind for {type_.__name__}.")
        return kind, self._folders[kind.name]

    def _prepared(self, document: Document) -> tuple[Kind[Any], str, Fields]:
        """Return what is to be saved of a document, after making sure that it can be read."""
        kind, _ = self._of(type(document))
        if not is_id(document.id):
            said = f"A {kind.name} was not saved: its id {document.id!r} cannot be a file name."
            raise BrokenDocumentError(said, file_name(kind, document.id), "id")
        return kind, document.id, to_fields(kind, document)

    def _check_writable(self) -> None:
        """Refuse to save when the lock is not ours, or another disk is in the log's place."""
        if self._lock is None:
            raise LogReadOnlyError(
                f"Nothing was saved. {self.read_only_reason}", self.read_only_hint
            )
        try:
            same = self.folder.stat().st_dev == self._device
            ours = same and self._lock.still_ours()
        except OSError as error:
            raise explain(error, "nothing was saved") from error
        if not same:
            raise LogFolderError(
                f"Nothing was saved: {self.folder} is on another disk than before.",
                "Put the disk or stick back in place, then do it again.",
            )
        if not ours:
            reason = "Another process has taken over the log."
            self._stop_writing(reason, "Close it there, then open the log again.")
            raise LogReadOnlyError(f"Nothing was saved. {reason}", self.read_only_hint)

    def _stop_writing(self, reason: str, hint: str) -> None:
        """Touch nothing in the log folder from now on."""
        self._lock = None
        self.read_only, self.read_only_reason, self.read_only_hint = True, reason, hint
        for folder in self._folders.values():
            folder.stop_writing()


def _sweep_all(root: Path, kinds: Sequence[str]) -> None:
    """Remove the temporary files of a writer that ended in the middle of a save."""
    aside = root / ASIDE_FOLDER
    for folder in (root, aside, *(top / kind for top in (root, aside) for kind in kinds)):
        if folder.is_dir():
            sweep(folder, [path.name for path in folder.iterdir()], mark="")
