"""The trail of a session: every action leaves a line that can take it back, undoing as well."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import jsonpatch
import msgspec

from core.errors import BlockedError
from core.session.documents import Session, TrailLine

__all__ = ["as_of", "last_undoable", "recorded", "undo"]

_FIELDS = tuple(name for name in Session.__struct_fields__ if name != "trail")
Patch = list[dict[str, Any]]


def _plain(value: object) -> Any:
    """The value as it reads back from a file: lists for tuples, text for times."""
    return msgspec.json.decode(msgspec.json.encode(value))


def _state(session: Session) -> dict[str, Any]:
    return {name: _plain(getattr(session, name)) for name in _FIELDS}


def _back(before: Session, after: Session) -> Patch:
    """The patch that leads from ``after`` back to ``before``."""
    patch: Patch = []
    for name in _FIELDS:
        old, new = getattr(before, name), getattr(after, name)
        if old is new:
            continue
        if isinstance(old, tuple) and isinstance(new, tuple):
            patch.extend(_list_back(f"/{name}", old, new))
        else:
            patch.append({"op": "replace", "path": f"/{name}", "value": _plain(old)})
    return patch


def _list_back(path: str, old: tuple[Any, ...], new: tuple[Any, ...]) -> Patch:
    """The same for a list, where most elements are untouched: only the middle that differs."""
    most = min(len(old), len(new))
    start = next((i for i in range(most) if old[i] != new[i]), most)
    rest = most - start
    end = next((i for i in range(rest) if old[-1 - i] != new[-1 - i]), rest)
    was, now = old[start : len(old) - end], new[start : len(new) - end]
    shared = min(len(was), len(now))
    patch: Patch = []
    for i in range(shared):
        patch.extend(_element_back(f"{path}/{start + i}", was[i], now[i]))
    gone = {"op": "remove", "path": f"{path}/{start + shared}"}
    patch.extend(dict(gone) for _ in now[shared:])
    for i, value in enumerate(was[shared:], start + shared):
        patch.append({"op": "add", "path": f"{path}/{i}", "value": _plain(value)})
    return patch


def _element_back(path: str, old: object, new: object) -> Patch:
    was, now = _plain(old), _plain(new)
    if not isinstance(was, dict):
        return [{"op": "replace", "path": path, "value": was}]
    found = jsonpatch.make_patch(now, was).patch
    return [{**op, **{k: path + op[k] for k in ("path", "from") if k in op}} for op in found]


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


def as_of(session: Session, lines: int) -> Session:
    """Return the session as it was when its trail had so many lines.

    Args:
        session: any.
        lines: 0 to the length of its trail.

    Raises:
        BlockedError: the trail does not lead back that far; it was changed by hand.
    """
    state = _state(session)
    try:
        for line in reversed(session.trail[lines:]):
            state = jsonpatch.apply_patch(state, line.back)
        found = msgspec.convert({**state, "trail": []}, Session)
    except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException, msgspec.ValidationError):
        raise BlockedError(f"The trail of {session.label} does not lead back.") from None
    return msgspec.structs.replace(found, trail=session.trail[:lines])


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
    state = jsonpatch.apply_patch(_state(session), line.back)
    restored = msgspec.convert({**state, "trail": []}, Session)
    taken = TrailLine(
        at=at,
        action="undo",
        words=f"took back: {line.words}",
        back=_back(session, restored),
        undoes=index,
    )
    return msgspec.structs.replace(restored, trail=(*session.trail, taken))
