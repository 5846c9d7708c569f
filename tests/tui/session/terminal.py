"""The program in a terminal of its own: started, typed at, looked at, killed."""

from __future__ import annotations

import fcntl
import os
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from tests.tui.session.emulator import Emulator

__all__ = ["PATIENCE", "Terminal", "Zygote", "environment", "program", "ready_home", "wait_for_end"]

PATIENCE = 30.0
"""Seconds to wait for something that is sure to come; only a broken program takes so long."""

_ROOT = Path(__file__).parents[3]
_ZYGOTE = Path(__file__).with_name("zygote.py")


def environment(home: Path) -> dict[str, str]:
    """Return the variables of a process that sees no home folder but this one."""
    return {
        "HOME": str(home),
        "XDG_CONFIG_HOME": str(home / "config"),
        "XDG_STATE_HOME": str(home / "state"),
        "XDG_DATA_HOME": str(home / "data"),
        "PATH": os.environ.get("PATH", ""),
        "PYTHONPATH": str(_ROOT),
        "PYTHONUTF8": "1",
        "TERM": "xterm-256color",
        "COLORTERM": "truecolor",
        "LANG": "C.UTF-8",
        "TZ": "Europe/Berlin",
    }


def ready_home(home: Path) -> Path:
    """Make a home folder of someone who has read the cautions; return it."""
    preferences = home / "config" / "backtoback" / "preferences.json"
    preferences.parent.mkdir(parents=True)
    preferences.write_text('{"cautions_seen": true}', encoding="utf-8")
    return home


class Terminal:
    """One terminal with one program in it.

    Args:
        start: starts the program with the device at this path as its terminal; returns its pid.
        columns: width.
        rows: height.
    """

    def __init__(self, start: Callable[[str], int], columns: int = 80, rows: int = 24) -> None:
        self.screen = Emulator(columns, rows)
        self._ours, theirs = os.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.pid = start(os.ttyname(theirs))
        self._theirs = theirs  # kept open, so that what was written last can still be read

    def type_in(self, text: str) -> None:
        """Type this; Enter is ``\\r``, tab ``\\t``, esc ``\\x1b``."""
        os.write(self._ours, text.encode())

    def look(self, seconds: float = 0.0) -> str:
        """Take in what was written, waiting so long for some; return the screen on one line."""
        while select.select([self._ours], [], [], seconds)[0]:
            try:
                data = os.read(self._ours, 65536)
            except OSError:  # the program is gone and everything was read
                break
            self.screen.feed(data)
            seconds = 0.0
        return self.screen.flat

    def rest(self, quiet: float = 0.15) -> str:
        """Wait until nothing was written for so many seconds; return the screen on one line."""
        while select.select([self._ours], [], [], quiet)[0]:
            self.look()
        return self.screen.flat

    def wait_for(self, words: str, patience: float = PATIENCE) -> str:
        """Wait until these words are on the screen; return it on one line."""
        until = time.monotonic() + patience
        while words not in (shown := self.look(0.02)):
            if time.monotonic() > until:
                raise AssertionError(f"{words!r} did not come:\n{self.screen.text}")
        return shown

    def kill(self) -> None:
        """End the program at once, without a chance to do anything."""
        os.kill(self.pid, signal.SIGKILL)

    def close(self) -> None:
        """Give the terminal back."""
        os.close(self._theirs)
        os.close(self._ours)


class Zygote:
    """A process that has loaded the program and forks it off, each time with a new terminal.

    What is forked runs the same ``main`` as the command, in a process and session of its own; only
    the loading of modules, a third of a second, is saved.

    Args:
        home: a folder to be home in.
    """

    def __init__(self, home: Path) -> None:
        self._process = subprocess.Popen(
            [sys.executable, str(_ZYGOTE)],
            env=environment(home),
            cwd=home,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def program(self, folder: Path) -> Callable[[str], int]:
        """Return what forks the program, on the log in this folder, onto a terminal."""

        def start(device: str) -> int:
            assert self._process.stdin is not None
            assert self._process.stdout is not None
            self._process.stdin.write(f"{device}\t{folder}\n")
            self._process.stdin.flush()
            return int(self._process.stdout.readline())

        return start

    def close(self) -> None:
        """End it; what it forked is ended already."""
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait(PATIENCE)


def program(folder: Path, variables: Mapping[str, str]) -> Callable[[str], int]:
    """Return what starts the command itself, as a shell would.

    Args:
        folder: of the log.
        variables: its environment.
    """

    def start(device: str) -> int:
        terminal = os.open(device, os.O_RDWR | os.O_NOCTTY)
        try:
            process = subprocess.Popen(
                [sys.executable, "-m", "tui.cli", "--log", str(folder)],
                env=dict(variables),
                cwd=_ROOT,
                stdin=terminal,
                stdout=terminal,
                stderr=terminal,
                start_new_session=True,
            )
        finally:
            os.close(terminal)
        _STARTED.append(process)
        return process.pid

    return start


_STARTED: list[subprocess.Popen[bytes]] = []
"""Kept until they are waited for, so that no process is left behind."""


def wait_for_end(terminal: Terminal | None = None) -> None:
    """Wait for every program that was started and is ending or was killed.

    Args:
        terminal: where its last words are taken in: nobody ends who is not listened to.
    """
    while _STARTED:
        process = _STARTED.pop()
        until = time.monotonic() + PATIENCE
        while process.poll() is None:
            assert time.monotonic() < until, f"process {process.pid} does not end"
            if terminal is None:
                time.sleep(0.002)
            else:
                terminal.look(0.02)
