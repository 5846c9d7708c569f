"""CSV texts and logs for the tests of reading in and writing out."""

from __future__ import annotations

from pathlib import Path

from core.exchange import Imported, export_csv, import_csv
from core.session import Book, Session
from tests.making import new_book

__all__ = ["HEADER", "empty", "exported", "only_session", "read_in", "row", "rows"]

HEADER = "session,started,machine,place,test,timing,direction,value,unit,kind,tag,struck,note"
_USUAL = {
    "session": "S01",
    "started": "2026-04-12T10:05+02:00",
    "machine": "Kettle Moth",
    "place": "Vennimoor strip",
    "test": "0-50",
    "timing": "logger-10hz",
}


def row(extra: str = "", **cells: str) -> str:
    """Return one row of the usual session; cells as they stand in the file."""
    told = {**_USUAL, **cells}
    return ",".join([told.get(name, "") for name in HEADER.split(",")]) + extra


def rows(*lines: str, header: str = HEADER) -> str:
    """Return a whole CSV text."""
    return "".join(f"{line}\n" for line in (header, *lines))


def empty(folder: Path) -> Book:
    """Open a new log in a folder that may not be there yet."""
    folder.mkdir(parents=True, exist_ok=True)
    return new_book(folder)[0]


def read_in(book: Book, text: str) -> Imported:
    """Read a CSV text into a log."""
    return import_csv(book, text, "a.csv")


def exported(book: Book) -> str:
    """Return the CSV of a log."""
    return export_csv(book).data.decode()


def only_session(book: Book) -> Session:
    """Return the one session of a log."""
    (session,) = book.log.all(Session)
    return session
