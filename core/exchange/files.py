"""Files from outside: read whole, known by what they hold and not by their names."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from core.errors import InputError

__all__ = ["FileFormat", "format_of_text", "read_text", "text_of"]

FileFormat = Literal["csv", "lines"]

_LARGEST = 1_000_000_000  # bytes; far above a log of a lifetime
_BOM_16 = (b"\xff\xfe", b"\xfe\xff")
_CONTROL = frozenset(range(9)) | frozenset(range(14, 32)) - {27}  # bytes that text hardly has
_HEAD = 4096  # bytes looked at to tell what a file is
_MOST_CONTROL = 0.05  # share of control bytes from which on a file is taken for no text


def read_text(path: Path) -> str:
    """Return the text of a file.

    Raises:
        InputError: it is missing, a folder, empty, not text, not UTF-8, or may not be read.
    """
    try:
        if path.is_dir():
            raise InputError(f"{path} is a folder, and a file is wanted.")
        if path.exists() and path.stat().st_size > _LARGEST:
            raise InputError(f"{path} is larger than any log: nothing was read.")
        data = path.read_bytes()
    except FileNotFoundError:
        raise InputError(f"There is no file {path}.", "Check the path.") from None
    except OSError as error:
        raise InputError(f"{path} cannot be read ({error.strerror or error}).") from error
    return text_of(data, str(path))


def text_of(data: bytes, name: str) -> str:
    """Return the text that bytes hold; a byte order mark is taken off.

    Args:
        data: the whole file.
        name: what it is called, for the sentence.

    Raises:
        InputError: empty, not text, or not UTF-8.
    """
    if not data.strip():
        raise InputError(f"{name} is empty.")
    if data.startswith(_BOM_16):
        raise InputError(f"{name} is UTF-16 text.", "Save it as CSV in UTF-8.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if _is_binary(data):
            raise InputError(f"{name} is not a text file.") from None
        line = data.count(b"\n", 0, error.start) + 1
        message = f"{name} is not UTF-8 text (line {line})."
        raise InputError(message, "Save it as CSV in UTF-8.") from None


def _is_binary(data: bytes) -> bool:
    head = data[:_HEAD]
    odd = sum(byte in _CONTROL for byte in head)
    return odd > _MOST_CONTROL * len(head)


def format_of_text(text: str, name: str) -> FileFormat:
    """Tell what a text is: the whole log as JSON lines, or attempts as CSV.

    Args:
        text: the whole file.
        name: what it is called, for the sentence.

    Raises:
        InputError: it is neither.
    """
    first = next((line.strip() for line in text.splitlines() if line.strip()), "")
    if first.startswith(("{", "[")):
        if '"backtoback"' in first:
            return "lines"
        raise InputError(
            f"{name} is JSON, but its first line is not the header of a log.",
            'That is {"backtoback": 1}; “backtoback export --lines” writes it.',
        )
    words = {cell.strip().strip('"').casefold() for d in ",;\t" for cell in first.split(d)}
    if first.casefold().startswith("sep=") or {"session", "machine", "value", "test"} & words:
        return "csv"
    raise InputError(
        f"{name} is neither a CSV of attempts nor a log in JSON lines.",
        "A CSV begins with the names of its columns: session, started, machine, test, value.",
    )
