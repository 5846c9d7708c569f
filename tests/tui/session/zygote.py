"""Run as a program: loads the app once, then forks it onto each terminal named on its input."""

from __future__ import annotations

import fcntl
import gc
import os
import signal
import sys
import termios
from importlib import import_module

from core.units import convert
from tui.screens.routes import load_all


def _load() -> None:
    """Load everything that the app would load while it starts and opens a session."""
    for name in ("tui.app", "tui.log_rows"):
        import_module(name)
    load_all()
    convert(1.0, "in", "mm")


def _take_terminal(device: str) -> None:
    """Make this terminal the one of the process: input, output and signals."""
    os.setsid()
    terminal = os.open(device, os.O_RDWR)
    fcntl.ioctl(terminal, termios.TIOCSCTTY, 0)
    for standard in (0, 1, 2):
        os.dup2(terminal, standard)
    os.close(terminal)
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115  lives as long as the process
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115  the same
    sys.__stdin__, sys.__stdout__ = sys.stdin, sys.stdout  # type: ignore[misc]
    sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115  the same
    sys.__stderr__ = sys.stderr  # type: ignore[misc]


def main() -> None:
    """Fork the program for each line of input, a terminal and a log folder; say its pid."""
    _load()
    gc.freeze()
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # the system reaps
    for line in sys.stdin:
        device, _, folder = line.strip().partition("\t")
        pid = os.fork()
        if not pid:
            _take_terminal(device)
            from tui.cli import main as command

            os._exit(command(["--log", folder]))
        print(pid, flush=True)  # noqa: T201  the answer to whoever asked


if __name__ == "__main__":
    main()
