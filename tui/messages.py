"""What the app tells its screens: facts in the past tense, each carrying a finished value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from core.errors import BackToBackError
    from tui.log_rows import LogState

__all__ = ["LogRead", "LogRefused"]


@dataclass
class LogRead(Message):
    """The log was opened and read."""

    state: LogState


@dataclass
class LogRefused(Message):
    """The log could not be opened."""

    error: BackToBackError
