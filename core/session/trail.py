"""The trail of a session: every action leaves a line that can take it back, undoing as well."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import jsonpatch
import msgspec

from core.errors import BlockedError
from core.session.documents import Session, TrailLine

__all__ = ["last_undoable", "recorded", "undo"]

_FIELDS = tuple(name for name in Session.__struct_fields__ if name != "trail")


def _plain(session: Session, fields: tuple[str, ...]) -> dict[str, Any]:
    """The fields as they read back from a file: lists for tuples, text for times."""
    plain = {name: getattr(session, name) for name in fields}
    decoded: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(plain))
    return decoded


def _touched(before: Session, after: Session) -> tuple[str, ...]:
    return tuple(f for f in _FIELDS if getattr(before, f) is not getattr(after, f))


def _back(before: Session, after: Session) -> list[dict[str, Any]]:
    fields = _touched(before, after)
    patch = jsonpatch.make_patch(_plain(after, fields), _plain(before, fields))
    return list(patch.patch)


def recorded(before: Session, after: Session, action: str, words: str, at: datetime) -> Session:
    """Return ``after`` with one more line in its trail that leads back to ``before``.

    Args:
        before: the session as it was.
        after: the session as the action left it, with the same trail.
        action: the action's id, such as ``enter``.
        words: one line for a person.
        at: when it was done.
    """
    line = TrailLine(at=at, action=action, words=words, back=_back(before, after))
    return msgspec.structs.replace(after, trail=(*before.trail, line))


def last_undoable(session: Session) -> int | None:
    """Return the index of the newest line that was not taken back yet, or None."""
    undone = {line.undoes for line in session.trail if line.undoes is not None}
    for index in range(len(session.trail) - 1, -1, -1):
        line = session.trail[index]
        if line.undoes is None and index not in undone and line.action != "start":
            return index
    return None


def undo(session: Session, at: datetime) -> Session:
    """Take back the newest action that was not taken back yet; the trail keeps both.

    Raises:
        BlockedError: there is nothing left to take back.
    """
    index = last_undoable(session)
    if index is None:
        raise BlockedError("There is nothing to take back in this session.")
    line = session.trail[index]
    state = jsonpatch.apply_patch(_plain(session, _FIELDS), line.back)
    restored = msgspec.convert({**state, "trail": []}, Session)
    taken = TrailLine(
        at=at,
        action="undo",
        words=f"took back: {line.words}",
        back=_back(session, restored),
        undoes=index,
    )
    return msgspec.structs.replace(restored, trail=(*session.trail, taken))
