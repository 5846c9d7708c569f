"""Finding a session, machine or place by what a person types: a label, name, id or head."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from core.errors import NotFoundError
from core.session.documents import PlaceHead, SessionHead
from core.setup.documents import MachineHead

__all__ = ["find_named", "find_session", "find_side", "split_side"]


N = TypeVar("N", MachineHead, PlaceHead)


def split_side(word: str) -> tuple[str, str]:
    """Split ``S05:B`` into session and build; the build is empty when not told.

    >>> split_side("S05:b"), split_side("S05")
    (('S05', 'B'), ('S05', ''))
    """
    session, mark, build = word.rpartition(":")
    if mark and session and build.strip().isalpha() and len(build.strip()) <= 2:
        return session.strip(), build.strip().upper()
    return word.strip(), ""


def _not_one(
    word: str, found: Sequence[str], what: str, hint: str = "Type more of it."
) -> NotFoundError:
    if not found:
        return NotFoundError(f"There is no {what} “{word}”.", "backtoback list shows them all.")
    shown = ", ".join(found[:5]) + (" …" if len(found) > 5 else "")
    return NotFoundError(f"“{word}” fits {len(found)} {what}s: {shown}.", hint)


def find_session(word: str, heads: Iterable[SessionHead]) -> SessionHead:
    """Return the session of that label or id, or of any head of one that fits only it.

    A whole label wins over the head of a longer one, and of several in other letter case the one
    that is typed exactly; a whole id wins over all.

    Raises:
        NotFoundError: none fits, or more than one does.
    """
    sought = word.strip().casefold()
    if not sought:
        raise NotFoundError("Which session?", "backtoback list shows them all.")
    rows = list(heads)
    by_id = {h.id: h for h in rows}
    if word.strip() in by_id:
        return by_id[word.strip()]
    exact = [h for h in rows if h.label == word.strip()]
    whole = exact or [h for h in rows if h.label.casefold() == sought]
    headed = whole or [
        h
        for h in rows
        if h.label.casefold().startswith(sought) or h.id.casefold().startswith(sought)
    ]
    if len(headed) == 1:
        return headed[0]
    hint = "Type the id of the one that is meant." if whole else "Type more of it."
    raise _not_one(word, [f"{h.label} ({h.id})" for h in headed], "session", hint)


def find_side(word: str, heads: Iterable[SessionHead]) -> tuple[SessionHead, str]:
    """Return the session that a word such as ``S05:B`` names, and the letter of its build.

    A session whose whole label or id is the word wins over a build of another one.

    Returns:
        The session and the build, which is empty when it is not told.

    Raises:
        NotFoundError: none fits, or more than one does.
    """
    rows, whole = list(heads), word.strip().casefold()
    if any(whole in (h.label.casefold(), h.id) for h in rows):
        return find_session(word, rows), ""
    name, build = split_side(word)
    return find_session(name, rows), build


def _names(head: MachineHead | PlaceHead) -> set[str]:
    return {" ".join(name.split()).casefold() for name in (head.name, *head.aliases)}


def find_named(word: str, heads: Iterable[N], what: str) -> N:
    """Return the machine or place of that name, alias, id, or any head of a name.

    Args:
        word: as typed; letter case and outer blanks do not matter.
        heads: the rows to look in.
        what: ``machine`` or ``place``, for the sentence when nothing fits.

    Raises:
        NotFoundError: none fits, or more than one does.
    """
    sought = " ".join(word.split()).casefold()
    rows = list(heads)
    whole = [h for h in rows if h.id == word.strip() or sought in _names(h)]
    if len(whole) == 1:
        return whole[0]
    headed = whole or [h for h in rows if sought and h.name.casefold().startswith(sought)]
    if len(headed) == 1:
        return headed[0]
    raise _not_one(word, [h.name for h in headed], what)
