"""The other side of a merge: a log folder, JSON lines, or copies left in one's own log."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from core.errors import InputError, LogFolderError
from core.exchange.files import read_text
from core.exchange.lines_in import read_lines
from core.exchange.merge.copies import copies_in
from core.log import Document, Log
from core.session import KINDS, Book

__all__ = ["Source", "source_of"]


@dataclass(frozen=True)
class Source:
    """What another log holds."""

    name: str  # of the folder or file
    documents: tuple[Document, ...]
    remarks: tuple[str, ...] = ()  # what could not be read, a sentence each
    files: dict[str, str] = field(default_factory=dict)  # of copies: path by document id
    in_part: bool = False  # something of it could not be read
    folder: Path | None = None  # of the other log, where it is one: its recordings lie there


def source_of(book: Book, other: Path | None) -> Source:
    """Return what the other side of a merge holds; nothing is written there.

    Args:
        book: the open log that it is to go into.
        other: a log folder or a file of JSON lines; None: conflict copies in the log itself.

    Raises:
        InputError: it is the log itself, or not such a file.
        LogFolderError: there is no log.
        NewerFormatError: written by a newer version.
    """
    if other is None:
        return _own_copies(book)
    path = other.expanduser().absolute()
    if path.is_dir():
        return _folder(book, path)
    if not path.exists():
        raise LogFolderError(f"There is no {path}.", "Give a log folder, or a file of JSON lines.")
    documents, rejected = read_lines(read_text(path), str(other))
    remarks = tuple(f"Line {r.line}: {r.reason}" for r in rejected)
    return Source(str(other), documents, remarks, in_part=bool(rejected))


def _folder(book: Book, path: Path) -> Source:
    if path.resolve() == book.log.folder.resolve():
        raise InputError(
            "That is this very log: there is nothing to merge.",
            "Without a folder, merge looks for conflict copies in it.",
        )
    with Log.open(path, KINDS, read_only=True, create=False) as log:
        documents: list[Document] = []
        for kind in KINDS:
            documents += log.all(kind.type)
        problems = tuple(problem.sentence for problem in log.problems)
        copies = copies_in(log)
    told = [*problems]
    if copies:
        count = f"{len(copies)} conflict cop{'y' if len(copies) == 1 else 'ies'}"
        told.append(f"{path.name} holds {count} of its own: merge them there first.")
    if not documents and not problems:
        told.append(f"{path.name} holds no document: there is nothing to merge.")
    return Source(path.name, tuple(documents), tuple(told), in_part=bool(problems), folder=path)


def _own_copies(book: Book) -> Source:
    found = copies_in(book.log)
    good = [copy for copy in found if copy.document is not None]
    remarks: Sequence[str] = [copy.fault for copy in found if copy.fault]
    if not found:
        remarks = ["No conflict copy lies in this log: there is nothing to merge."]
    documents: list[Document] = []
    files: dict[str, str] = {}
    for copy in good:
        if copy.id in files:
            remarks = [*remarks, f"{copy.file} is another copy of the same: merge again for it."]
            continue
        files[copy.id] = copy.file
        documents += [copy.document] if copy.document is not None else []
    return Source("conflict copies", tuple(documents), tuple(remarks), files, in_part=False)
