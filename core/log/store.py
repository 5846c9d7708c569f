"""The one module that knows TinyDB: its tables over one file per document.

TinyDB's own table rewrites everything at each change. This one hands the storage only the
documents that a change touched, and reads only those that are asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, MutableMapping
from typing import Any, Final, NoReturn, cast

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Document as TinyDocument
from tinydb.table import Table

from core.log.codec import Fields
from core.log.durable import Stamp
from core.log.files import StampedFields
from core.log.folder import DocumentFolder

__all__ = ["DocumentBase", "DocumentTable", "FolderStorage", "StoredDocument"]


_NO_STAMP: Final[Stamp] = (0, 0, 0)  # of fields that did not come from a file


class StoredDocument(TinyDocument):
    """What a table hands out: a document's fields, its id, and the stamp of its file."""

    def __init__(self, value: Mapping[str, Any], doc_id: str) -> None:
        super().__init__(value, cast(int, doc_id))  # ids here are texts
        self.stamp: Stamp = getattr(value, "stamp", _NO_STAMP)


class _View(Mapping[str, StampedFields]):
    """A folder as the mapping that TinyDB reads: each document is read when it is taken out."""

    def __init__(self, folder: DocumentFolder) -> None:
        self._folder = folder

    def __getitem__(self, id_: str) -> StampedFields:
        fields = self._folder.fields(id_)
        if fields is None:
            raise KeyError(id_)
        return fields

    def __iter__(self) -> Iterator[str]:
        return iter(self._folder.ids())

    def __len__(self) -> int:
        return len(self._folder.ids())


class _Touched(MutableMapping[str, Any]):
    """A view that can be changed; it knows which documents were taken out or put in."""

    def __init__(self, view: Mapping[str, Any]) -> None:
        self._view = view
        self.documents: dict[str, Any] = {}

    def __getitem__(self, id_: str) -> Any:
        if id_ not in self.documents:
            self.documents[id_] = self._view[id_]
        return self.documents[id_]

    def __setitem__(self, id_: str, fields: Any) -> None:
        self.documents[id_] = fields

    def __delitem__(self, id_: str) -> NoReturn:
        raise TypeError(f"The log deletes nothing, and was told to delete {id_}.")

    def __iter__(self) -> Iterator[str]:
        return iter({**dict.fromkeys(self._view), **self.documents})

    def __len__(self) -> int:
        return len(set(self._view) | set(self.documents))


class FolderStorage(Storage):
    """A TinyDB storage with one folder per table and one file per document.

    Args:
        folders: the folder of each table, by the table's name.
    """

    def __init__(self, folders: Mapping[str, DocumentFolder]) -> None:
        self._folders = folders

    def read(self) -> dict[str, dict[str, Any]]:
        """Return a view of each table; nothing is read yet."""
        views = {name: _View(folder) for name, folder in self._folders.items()}
        return cast(dict[str, dict[str, Any]], views)

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Write the documents given, in their order; all others stay as they are."""
        for name, documents in data.items():
            for id_, fields in documents.items():
                self._folders[name].write(id_, fields)


class DocumentTable(Table):
    """A TinyDB table with texts for ids, in which a change costs what it touches."""

    document_class: type[TinyDocument] = StoredDocument
    document_id_class = cast(type[int], str)

    def put(self, id_: str, fields: Fields) -> None:
        """Set a document as a whole, whether it was there or not.

        Raises:
            LogError: it was not written.
        """
        self._update_table(lambda table: table.__setitem__(cast(int, id_), fields))

    def take(self, id_: str) -> StoredDocument | None:
        """Return a document; nothing if there is none.

        Raises:
            LogError: it cannot be read.
        """
        return cast(StoredDocument | None, self.get(doc_id=cast(int, id_)))

    def _update_table(self, updater: Callable[[dict[int, Mapping[str, Any]]], None]) -> None:
        """Hand the storage the documents that the updater touched."""
        touched = _Touched(self._read_table())
        updater(cast(dict[int, Mapping[str, Any]], touched))
        self._storage.write({self.name: touched.documents})
        self.clear_cache()


class DocumentBase(TinyDB):
    """A TinyDB of such tables.

    Args:
        folders: the folder of each table, by the table's name.
    """

    table_class = DocumentTable

    def __init__(self, folders: Mapping[str, DocumentFolder]) -> None:
        super().__init__(folders, storage=FolderStorage)

    def documents(self, name: str) -> DocumentTable:
        """Return the table of this name."""
        return cast(DocumentTable, self.table(name))
