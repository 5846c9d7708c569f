"""Every refusal of the tool, as one tree; each has a title for a person and a hint what to do.

::

    BackToBackError                exit 1   something is wrong
    ├── UsageError                 exit 2   the command or its words are off
    │   └── NotFoundError                   no such session, machine, part, place, slot, test
    ├── InputError                 exit 1   a typed value is refused or must be asked about
    │   ├── AmbiguousInputError             two readings are possible: ask, never guess
    │   └── OutOfRangeError                 outside the hard range of its slot or test
    ├── BlockedError               exit 1   the action is not open now (a stop check is)
    ├── UnknownInputError          exit 1   an answer needs a value that is not known: says which
    └── LogError                   exit 1   the log folder or one of its documents
        ├── LogFolderError                  missing, not a folder, no permission
        ├── LogReadOnlyError                opened to read only, or another process writes
        ├── LogFullError                    the disk is full
        ├── BrokenDocumentError             a document that cannot be read: names file and field
        └── NewerFormatError                written by a newer version: left untouched
"""

from __future__ import annotations

from typing import ClassVar

__all__ = [
    "AmbiguousInputError",
    "BackToBackError",
    "BlockedError",
    "BrokenDocumentError",
    "InputError",
    "LogError",
    "LogFolderError",
    "LogFullError",
    "LogReadOnlyError",
    "NewerFormatError",
    "NotFoundError",
    "OutOfRangeError",
    "UnknownInputError",
    "UsageError",
]


class BackToBackError(Exception):
    """Root of all refusals; ``str()`` of it is one plain sentence.

    Args:
        message: one sentence for the user.
        hint: what to do about it; empty when the sentence says it all.
    """

    title: ClassVar[str] = "Something is wrong"
    exit_code: ClassVar[int] = 1

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


class UsageError(BackToBackError):
    """The command or one of its words is off."""

    title = "Used wrongly"
    exit_code = 2


class NotFoundError(UsageError):
    """A name or id that the log or a table does not hold."""

    title = "Not found"


class InputError(BackToBackError):
    """A typed value is refused."""

    title = "Not taken"


class AmbiguousInputError(InputError):
    """A typed value that can be read in more than one way.

    Args:
        message: one sentence that puts the question.
        choices: the readings in question, as they would be typed unmistakably.
    """

    title = "Which one?"

    def __init__(self, message: str, choices: tuple[str, ...] = (), hint: str = "") -> None:
        super().__init__(message, hint)
        self.choices = choices


class OutOfRangeError(InputError):
    """A value outside the hard range: retype it, or change the unit."""

    title = "Out of range"


class BlockedError(BackToBackError):
    """The action is not open at this point of the session."""

    title = "Not open now"


class UnknownInputError(BackToBackError):
    """The answer is unknown because an input is.

    Args:
        message: one sentence.
        missing: names of the values that are missing.
    """

    title = "Unknown"

    def __init__(self, message: str, missing: tuple[str, ...] = (), hint: str = "") -> None:
        super().__init__(message, hint)
        self.missing = missing


class LogError(BackToBackError):
    """The log folder, or a document in it."""

    title = "The log"


class LogFolderError(LogError):
    """The log folder is missing, is not a folder, or may not be entered."""

    title = "The log folder"


class LogReadOnlyError(LogError):
    """Nothing can be saved: the log is open to read only."""

    title = "Read only"


class LogFullError(LogError):
    """The disk is full; what was saved before is untouched."""

    title = "Disk full"


class BrokenDocumentError(LogError):
    """A document that cannot be read as what it should be.

    Args:
        message: one sentence with the reason.
        file: the document's path within the log.
        field: the field that is wrong, as a path such as ``attempts[3].value``; empty if unknown.
    """

    title = "Broken document"

    def __init__(self, message: str, file: str = "", field: str = "", hint: str = "") -> None:
        super().__init__(message, hint)
        self.file = file
        self.field = field


class NewerFormatError(LogError):
    """The log or a document was written by a newer version of the tool."""

    title = "Newer format"
