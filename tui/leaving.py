"""Leaving when the system asks for it: a closed window or a shut-down ends the app in order."""

from __future__ import annotations

import asyncio
import contextlib
import signal
from collections.abc import Callable
from types import FrameType
from typing import Final

__all__ = ["leave_on_signals"]

_NAMES: Final = ("SIGTERM", "SIGHUP", "SIGBREAK")  # the last two are not everywhere


def leave_on_signals(leave: Callable[[], None]) -> None:
    """Call ``leave`` in the running event loop on SIGTERM, SIGHUP and (Windows) SIGBREAK.

    Where the loop takes no signal handlers, the plain ones are used; outside the main thread the
    system takes neither, and signals end the process as they always did.
    """
    loop = asyncio.get_running_loop()

    def plain_handler(number: int, frame: FrameType | None) -> None:
        loop.call_soon_threadsafe(leave)

    for name in _NAMES:
        number = getattr(signal, name, None)
        if number is None:
            continue
        try:
            loop.add_signal_handler(number, leave)
        except (NotImplementedError, RuntimeError, ValueError):
            with contextlib.suppress(ValueError, OSError):
                signal.signal(number, plain_handler)
