"""What became of one file that was read in: what went in, what did not, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Conflict", "Imported", "Made", "Rejected", "plural"]


@dataclass(frozen=True, slots=True)
class Rejected:
    """One row or line that did not go in."""

    line: int  # number of the line in the file, from 1
    reason: str  # one sentence


@dataclass(frozen=True, slots=True)
class Conflict:
    """Something that the file and the log tell differently; the log was not changed."""

    what: str  # label of the session, or kind and id of the document
    reason: str  # one sentence


@dataclass(frozen=True, slots=True)
class Made:
    """Names that the file used and the log did not know."""

    machines: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """One sentence, or nothing when nothing was made."""
        said = [
            f"{what} {', '.join(names)}"
            for what, names in (
                ("machine" if len(self.machines) == 1 else "machines", self.machines),
                ("place" if len(self.places) == 1 else "places", self.places),
                ("part" if len(self.parts) == 1 else "parts", self.parts),
            )
            if names
        ]
        return f"New in the log: {'; '.join(said)}." if said else ""


@dataclass(frozen=True, slots=True)
class Imported:
    """The whole outcome of one file."""

    file: str
    format: Literal["csv", "lines"]
    went_in: int = 0  # rows of attempts, or documents
    there: int = 0  # those that the log already held, word for word
    rejected: tuple[Rejected, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    contradicting: int = 0  # rows or documents behind the conflicts
    sessions_new: tuple[str, ...] = ()  # labels
    sessions_added_to: tuple[str, ...] = ()
    sessions_there: int = 0
    made: Made = Made()
    remarks: tuple[str, ...] = ()  # sentences about what went in and may not be as meant
    checked_only: bool = False  # nothing was saved

    @property
    def is_clean(self) -> bool:
        """Whether everything in the file is in the log now, or would be."""
        return not (self.rejected or self.conflicts)

    @property
    def summary(self) -> str:
        """One sentence with the counts."""
        thing = "row" if self.format == "csv" else "document"
        would = "would go in" if self.checked_only else "in"
        said = [f"{plural(self.went_in, thing)} {would}"]
        if self.there:
            said.append(f"{self.there} already there")
        if self.contradicting:
            said.append(f"{self.contradicting} held back, as the log says otherwise")
        said.append(f"{len(self.rejected)} rejected")
        return f"{self.file}: {', '.join(said)}."


def plural(count: int, thing: str) -> str:
    """Return a count with its thing.

    >>> plural(1, "row"), plural(2, "row")
    ('1 row', '2 rows')
    """
    return f"{count:,} {thing}" if count == 1 else f"{count:,} {thing}s"
