"""Looks through the folder of one kind: what is a document, what is not, what is left over."""

from __future__ import annotations

import os
import re
import stat
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from core.log.documents import Problem
from core.log.durable import Stamp, stamp_of
from core.log.ids import is_id

__all__ = ["Listing", "list_folder"]

_SUFFIX: Final = ".json"
_BESIDE: Final = re.compile(r".*\.json\.format\d+(\.\d+)?")  # kept by a migration
_COPY: Final = "is not a document by its name, perhaps a copy that a file synchroniser made of one"

_OFFER: Final = "it is left alone, and backtoback merge shows it beside the document"


@dataclass
class Listing:
    """What a folder holds."""

    documents: dict[str, Stamp] = field(default_factory=dict)
    """Id and stamp of each file that is a document by its name."""
    hidden: list[str] = field(default_factory=list)
    """Names that begin with a dot: temporary files and those of other programs."""
    problems: list[Problem] = field(default_factory=list)
    """Files that look like documents and are none; they are left alone."""


def list_folder(folder: Path) -> Listing:
    """Return what the folder of one kind holds; nothing if there is no such folder.

    Raises:
        OSError: it cannot be looked through.
    """
    listing, prefix = Listing(), f"{folder.name}/"
    try:
        entries = os.scandir(folder)
    except FileNotFoundError:
        return listing
    with entries:
        for entry in entries:
            name = entry.name
            if name.endswith(_SUFFIX) and is_id(id_ := name[: -len(_SUFFIX)]):
                _sort_in(listing, prefix, entry, id_)
            elif name.startswith("."):
                listing.hidden.append(name)
            elif _SUFFIX in name.lower() and not _BESIDE.fullmatch(name):
                file = prefix + name
                listing.problems.append(Problem(file, "", f"{file!r} {_COPY}; {_OFFER}."))
    return listing


def _sort_in(listing: Listing, prefix: str, entry: os.DirEntry[str], id_: str) -> None:
    """Put a name that is a document's where it belongs."""
    try:
        status = entry.stat()
    except FileNotFoundError:
        return  # gone since, or a link to nothing
    except OSError as error:
        problem = f"cannot be looked at ({error.strerror})."
    else:
        if not stat.S_ISDIR(status.st_mode):
            listing.documents[id_] = stamp_of(status)
            return
        problem = "is a folder; it is left alone."
    file = prefix + entry.name
    listing.problems.append(Problem(file, "", f"{file} {problem}"))
