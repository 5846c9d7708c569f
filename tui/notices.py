"""What the user should know before anything else, one line each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.log_rows import LogRow, LogState

__all__ = ["notices"]


def notices(state: LogState, old: Sequence[LogRow], complaints: Iterable[str]) -> tuple[str, ...]:
    """Return the notices for the log list, the weightiest first.

    Args:
        state: the log as it was read.
        old: sessions that were left open on an earlier day, newest first.
        complaints: about preferences and key map.
    """
    return (
        *([f"▲ Read only: {state.read_only}"] if state.read_only else []),
        *([f"▲ {state.clock_doubt}"] if state.clock_doubt else []),
        *_left_open(old),
        *_problems(len(state.problems)),
        *(f"▲ {line}" for line in complaints if line),
    )


def _left_open(old: Sequence[LogRow]) -> Iterable[str]:
    if old:
        head = old[0].head
        since = f"{head.started.day} {head.started:%b}"
        more = f" ({len(old) - 1} more as well)" if len(old) > 1 else ""
        yield (
            f"○ {head.label} is open since {since}{more}: "
            "enter resumes it, x closes it as of its last entry."
        )


def _problems(count: int) -> Iterable[str]:
    if count:
        things = "1 thing is" if count == 1 else f"{count} things are"
        yield f"▲ {things} not as it should be in the log folder: p shows it."
