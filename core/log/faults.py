"""Says in plain words what the decoder found wrong in a document, and in which field."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Final

__all__ = ["name_entry", "reason_and_field"]

_ENTRY: Final = "[...]"  # how the decoder points into a mapping: some entry, it does not say which

_WORDS: Final = {
    "array": "a list",
    "bool": "true or false",
    "bytes": "text",
    "date": "a date",
    "datetime": "a time",
    "float": "a number",
    "int": "a whole number",
    "null": "nothing",
    "object": "a group of fields",
    "str": "text",
}
"""What the decoder calls a type, and what a person calls it."""

_LIMITS: Final = {" with a timezone component": " with its offset from UTC"}
"""What the decoder asks of a value beside its type, in words of a person, where its own are not."""

_PATH: Final = re.compile(r"(?P<said>.*?)(?: - at (?:`key` in )?`\$?\.?(?P<field>.*)`)?", re.DOTALL)
_EXPECTED: Final = re.compile(
    r"Expected `(?P<wanted>[^`]*)`(?P<limit>[^,]*)(?:, got `(?P<got>[^`]*)`)?"
)
_MISSING: Final = re.compile(r"Object missing required field `(?P<name>[^`]*)`")
_UNKNOWN: Final = re.compile(r"Object contains unknown field `(?P<name>[^`]*)`")
_SUBJECT: Final = "the whole file"
_LONGEST: Final = 120  # characters of what a file says that are shown


def reason_and_field(error: Exception) -> tuple[str, str]:
    """Return why a document cannot be read, and the path of the field, empty if unknown.

    >>> reason_and_field(ValueError("Expected `float`, got `str` - at `$.attempts[3].value`"))
    ('attempts[3].value should be a number and is text', 'attempts[3].value')
    """
    if isinstance(error, UnicodeDecodeError):
        return "it is not UTF-8 text", ""
    if isinstance(error, RecursionError):
        return "it is nested too deeply", ""
    text = _shown(str(error))
    found = _PATH.fullmatch(text)
    said, field = (found["said"], found["field"] or "") if found else (text, "")
    if said == "Input data was truncated":
        return "it ends in the middle", ""
    if said.startswith("JSON is malformed"):
        return f"it is not JSON ({said.partition(': ')[2]})", ""
    return _about_field(said, field)


def name_entry(fields: dict[str, Any], field: str, fits: Callable[[dict[str, Any]], bool]) -> str:
    """Return the path of a field with the key of the mapping's entry in it.

    Args:
        fields: the document's fields.
        field: a path such as ``sheet.slots[...].value``.
        fits: tells whether such fields make a document.

    Returns:
        ``sheet.slots[jet].value`` when ``sheet.slots`` does not fit because of the entry ``jet``.
    """
    path, dots, rest = field.partition(_ENTRY)
    names = path.split(".")
    mapping = fields.get(names[0])
    for name in names[1:]:
        mapping = mapping.get(name) if isinstance(mapping, dict) else None
    if not dots or not isinstance(mapping, dict):
        return field
    for key in mapping:
        if not fits(_with_entry(fields, names, {key: mapping[key]})):
            return f"{path}[{_shown(key)}]{rest}"
    return field


def _with_entry(fields: dict[str, Any], names: list[str], entry: dict[str, Any]) -> dict[str, Any]:
    """Return the fields with another value at the end of a chain of names."""
    first, *others = names
    return {**fields, first: _with_entry(fields[first], others, entry) if others else entry}


def _about_field(said: str, field: str) -> tuple[str, str]:
    """Return the sentence and the field for a value that does not fit its type."""
    if found := _MISSING.fullmatch(said):
        whole = _joined(field, found["name"])
        return f"{whole} is missing", whole
    if found := _UNKNOWN.fullmatch(said):
        whole = _joined(field, found["name"])
        return f"{whole} is not a known field", whole
    subject = field or _SUBJECT
    if found := _EXPECTED.fullmatch(said):
        stands = f" and is {_plain(found['got'])}" if found["got"] else ""
        limit = _LIMITS.get(found["limit"], found["limit"])
        return f"{subject} should be {_plain(found['wanted'])}{limit}{stands}", field
    return f"{subject}: {said.replace('`', '')}", field


def _shown(text: str) -> str:
    """Return text from a file so that it is harmless on a screen and fits a line."""
    line = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    return line if len(line) <= _LONGEST else line[: _LONGEST - 1] + "\N{HORIZONTAL ELLIPSIS}"


def _plain(types: str) -> str:
    """Return the words for one type or several: ``float | null``."""
    return " or ".join(_WORDS.get(name, name) for name in types.split(" | "))


def _joined(path: str, name: str) -> str:
    """Return the path of a field within what a path points at."""
    return f"{path}.{name}" if path else name
