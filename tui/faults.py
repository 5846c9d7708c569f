"""The last words when the program itself is at fault: plain ones on screen, details in a file."""

from __future__ import annotations

import sys
import traceback
from pathlib import Path

from rich.segment import Segment, Segments

__all__ = ["last_words"]


def last_words() -> Segments:
    """Return what to print for the exception being handled, after writing its details to a file."""
    error = sys.exc_info()[1]
    kind = type(error).__name__
    lines = [
        f"Back to Back stopped because of a fault of its own ({kind}).",
        "Everything that was entered is saved. Start it again to go on where you were.",
    ]
    path = _written(traceback.format_exc())
    if path is not None:
        lines.append(f"Details for whoever mends it: {path}")
    return Segments([Segment("\n".join(lines) + "\n")])


def _written(details: str) -> Path | None:
    """Write the details; return where, or None if they could not be written."""
    from platformdirs import user_log_path  # lazy: 8 ms

    path = user_log_path("backtoback", appauthor=False) / "fault.txt"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(details, encoding="utf-8", errors="backslashreplace")
    except OSError:
        return None
    return path
