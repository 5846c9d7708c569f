"""What a person should know about a recording, one sentence each."""

from __future__ import annotations

import msgspec

__all__ = ["Finding"]


class Finding(msgspec.Struct, frozen=True):
    """Something a person should know about a recording."""

    kind: str  # such as ``gaps``; the same for the same trouble
    sentence: str  # one plain sentence
    shift: float | None = None  # s that would put the clock right, where that is the trouble
