"""Starting the app on a log: checks the terminal first, then takes the screen over."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tui.terminal import need_terminal
from tui.verbs.opening import make_default_parent

if TYPE_CHECKING:
    from core.session import Book

__all__ = ["run_app"]


def run_app(folder: Path, *, demo: bool = False) -> int:
    """Run the app on the log in this folder until it is left; return its exit code.

    Args:
        folder: the log folder; made if it is missing.
        demo: whether it is a copy of the demo season; preferences are then not kept.

    Raises:
        UnfitTerminalError: there is no terminal that can show it.
    """
    need_terminal(sys.stdin, sys.stdout, sys.stderr, os.environ)
    from tui.app import BackToBackApp  # lazy: textual, 0.2 s
    from tui.preferences import PreferencesFile, preferences_path  # lazy: with the app

    def open_book() -> Book:
        from core.session import Book  # lazy: 0.1 s, after first paint

        make_default_parent(folder)
        return Book.open(folder)

    preferences = PreferencesFile(None if demo else preferences_path())
    app = BackToBackApp(open_book, preferences, demo=demo)
    app.run()
    return app.return_code or 0
