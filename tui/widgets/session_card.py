"""One session at a glance, beside the list where the terminal is wide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from tui.text import safe

if TYPE_CHECKING:
    from core.attempts import Attempt
    from tui.log_rows import LogRow

__all__ = ["SessionCard"]


class SessionCard(Static):
    """What was asked, and every attempt as it was taken down."""

    def show(self, row: LogRow | None) -> None:
        """Show a session, or nothing."""
        self.update(_card(row) if row is not None else "")


def _card(row: LogRow) -> Content:
    head = row.head
    lines = [safe(f"{head.label}  {row.machine}", "bold"), safe(row.place or "no place told")]
    lines.append(safe("  ".join(filter(None, (head.test, head.timing)))))
    if head.question:
        lines += [Content(""), safe(head.question)]
    if head.stopped_because:
        lines += [Content(""), safe(f"stopped: {head.stopped_because}")]
    sheet = None
    for attempt in head.attempts:
        if attempt.sheet != sheet:  # a blank line before each setup sheet
            lines.append(Content(""))
            sheet = attempt.sheet
        lines.append(safe(_attempt_line(attempt)))
    return Content("\n").join(lines)


def _attempt_line(attempt: Attempt) -> str:
    value = attempt.kind if attempt.value is None else f"{attempt.value:.2f}"
    words: list[str] = [attempt.kind] if attempt.kind == "warm-up" else []
    words += attempt.tags
    words += [f"struck {attempt.strike.code}"] if attempt.strike else []
    return f"{attempt.n:>3}  {attempt.direction:<4} {value:>7}  {' '.join(words)}".rstrip()
