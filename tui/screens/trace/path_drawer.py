"""A drawer for the path of a file, with Tab to complete it."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any, ClassVar

from textual.app import App
from textual.binding import Binding, BindingType

from core.trace.reading import kind_of
from tui.dialogs import TextDrawer
from tui.widgets.line_input import LineInput

__all__ = ["ask_path", "completed", "read_path"]

_SHOWN = 6  # names that are said where several fit


def read_path(text: str) -> Path:
    """Return the file that was typed; a recording can be read from it.

    Raises:
        InputError: there is none, or it is no recording.
    """
    path = Path(text.strip().strip("'\"")).expanduser()
    kind_of(path)
    return path


def completed(text: str) -> tuple[str, tuple[str, ...]]:
    """Return a path completed as far as it is clear, and the names that fit where several do.

    Args:
        text: as typed so far; ``~`` is the home folder.
    """
    head, tail = os.path.split(text)
    folder = Path(head or ".").expanduser()
    try:
        names = sorted(
            entry.name + ("/" if entry.is_dir() else "")
            for entry in folder.iterdir()
            if entry.name.casefold().startswith(tail.casefold())
            and (tail.startswith(".") or not entry.name.startswith("."))
        )
    except OSError:
        return text, ()
    if not names:
        return text, ()
    shared = os.path.commonprefix(names)  # noqa: RUF071 - letters in common are wanted
    longer = shared if len(shared) > len(tail) or len(names) == 1 else tail
    return os.path.join(head, longer), tuple(names) if len(names) > 1 else ()  # noqa: PTH118 - a Path drops the ./ and the last slash that were typed


class PathDrawer(TextDrawer):
    """A field for a path."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "complete", "Complete", show=True, priority=True)
    ]

    def action_complete(self) -> None:
        """Complete what is typed; say the names where several fit."""
        field = self.query_one(LineInput)
        field.value, names = completed(field.value)
        field.cursor_position = len(field.value)
        more = f" and {len(names) - _SHOWN} more" if len(names) > _SHOWN else ""
        self.complain(f"{', '.join(names[:_SHOWN])}{more}" if names else "")


async def ask_path(app: App[Any], value: str = "") -> Path | None:
    """Ask for the file of a recording; None when esc was pressed."""
    drawer = PathDrawer(
        "Which file?",
        sentence="NMEA sentences, a GPX track, or a CSV with time and speed. Tab completes it.",
        value=value,
        hint="~/recordings/0906.nmea",
        check=read_path,
    )
    said = await app.push_screen_wait(drawer)
    return None if said is None else read_path(said)
