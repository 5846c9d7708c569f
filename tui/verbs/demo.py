"""``demo``: the app on a fresh copy of a season that was made up, or the season in words."""

from __future__ import annotations

import os
import sys
import tempfile
from argparse import Namespace
from pathlib import Path

import demo
from core.errors import UsageError
from core.report import Block, Paragraph, Report
from core.session import Book
from tui.output import Result
from tui.terminal import UnfitTerminalError, need_terminal
from tui.verbs.opening import chosen_folder

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Build the season and open the app on it; without a terminal, or with --text, print it.

    With ``--log`` the season is kept in that folder, which must be new or empty.

    Raises:
        UsageError: the folder holds something already.
        LogError: the folder cannot be used.
    """
    if arguments.log is not None:
        folder = chosen_folder(arguments)
        _need_empty(folder)
        return _run(arguments, folder)
    with tempfile.TemporaryDirectory(prefix="backtoback-demo-") as home:
        return _run(arguments, Path(home) / "log")


def _run(arguments: Namespace, folder: Path) -> Result:
    demo.build(folder)
    if arguments.text or not _has_terminal():
        with Book.open(folder, read_only=True, create=False) as book:
            return Result(Report("", _paragraphs(demo.season_text(book))))
    from tui.launch import run_app  # lazy: textual, 0.2 s

    return Result(code=run_app(folder, demo=True))


def _need_empty(folder: Path) -> None:
    if folder.is_dir() and any(folder.iterdir()):
        raise UsageError(
            f"{folder} holds something already.", "The demo season goes into a new or empty folder."
        )


def _has_terminal() -> bool:
    try:
        need_terminal(sys.stdin, sys.stdout, sys.stderr, os.environ)
    except UnfitTerminalError:
        return False
    return True


def _paragraphs(text: str) -> tuple[Block, ...]:
    return tuple(Paragraph(part) for part in text.strip("\n").split("\n\n"))
