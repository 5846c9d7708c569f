"""The screen of one recording: what is in it, and its runs as attempts of a session."""

from tui.screens.trace.opening import Opening, ask_recording
from tui.screens.trace.screen import TraceScreen

__all__ = ["Opening", "TraceScreen", "ask_recording"]
