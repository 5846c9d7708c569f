"""Starting and leaving: what is loaded when, and that the system's signals end it in order."""

from __future__ import annotations

import errno
import io
import os
import signal
import subprocess
import sys
import textwrap
from pathlib import Path
from typing import Any

import pytest

from core.session import Book
from tests.tui.season import small_season

pexpect = pytest.importorskip("pexpect", reason="there are no pseudo-terminals here")

HEAVY = ("numpy", "scipy", "pint", "gpxpy", "pynmea2", "tinydb", "jsonpatch", "core.session")

_FIRST_PAINT = """
    import sys
    from core.errors import LogFolderError
    from tui.app import BackToBackApp
    from tui.preferences import PreferencesFile
    from tests.tui.seeing import text

    class Watched(BackToBackApp):
        def read_log(self):
            print("PAINTED", "Reading the log" in text(self))
            print("LOADED", *sorted(sys.modules))
            self.exit()

    wishes = PreferencesFile()
    wishes.change(cautions_seen=True)
    Watched(lambda: None, wishes).run(headless=True)
"""

_REAL = """
    import sys
    from pathlib import Path
    from core.session.book import Book
    from tui.app import BackToBackApp
    from tui.preferences import PreferencesFile

    class Faulty(BackToBackApp):
        def action_theme(self):
            raise ZeroDivisionError("a fault of the program")

    wishes = PreferencesFile()
    wishes.change(cautions_seen=True)
    app = Faulty(lambda: Book.open(Path(sys.argv[1])), wishes)
    app.run()
    sys.exit(app.return_code)
"""


def run(script: str, *arguments: str) -> str:
    """Run a script in a process of its own; return what it printed."""
    command = [sys.executable, "-c", textwrap.dedent(script), *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    return done.stdout


def started(folder: Path) -> Any:
    """Start the app in a pseudo-terminal and wait until the log is shown."""
    arguments = ["-c", textwrap.dedent(_REAL), str(folder)]
    child = pexpect.spawn(sys.executable, arguments, dimensions=(24, 80), timeout=30)
    child.expect("6 sessions")
    return child


def test_nothing_heavy_is_loaded_when_the_first_picture_is_painted() -> None:
    """The log is read and the rest is loaded after that, in a thread."""
    painted, loaded = run(_FIRST_PAINT).splitlines()
    assert painted == "PAINTED True"
    assert [name for name in HEAVY if name in loaded.split()] == []


@pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals")
@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGINT"])
def test_a_signal_ends_it_in_order(tmp_path: Path, name: str) -> None:
    """The terminal is given back and the log is free."""
    folder = small_season(tmp_path)
    child = started(folder)
    assert (folder / "log.lock").exists()
    os.kill(child.pid, getattr(signal, name))
    child.expect(pexpect.EOF)
    child.wait()
    assert not (folder / "log.lock").exists()
    assert b"Traceback" not in child.before
    with Book.open(folder) as book:
        assert not book.log.read_only
        assert len(book.sessions()) == 6


class _Gone(io.StringIO):
    """What is at the other end of a closed window."""

    def write(self, text: str) -> int:
        raise OSError(errno.EIO, "Input/output error")


@pytest.mark.skipif(sys.platform == "win32", reason="another driver")
async def test_words_to_a_closed_window_hold_nothing_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """However many there are: what writes them goes on until it is told to stop."""
    from textual.drivers._writer_thread import WriterThread

    from tui.app import BackToBackApp
    from tui.preferences import PreferencesFile

    monkeypatch.setattr(sys, "__stderr__", _Gone())
    app = BackToBackApp(lambda: pytest.fail("no log is opened"), PreferencesFile())
    writer = WriterThread(app.get_driver_class()(app)._file)  # type: ignore[attr-defined]
    writer.start()
    for _ in range(100):  # three times what waits at most
        writer._queue.put("last words", timeout=5)
    writer._queue.put(None, timeout=5)
    writer.join(5)
    assert not writer.is_alive()


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals")
def test_a_closed_window_ends_it_in_order(tmp_path: Path) -> None:
    """The terminal goes away while it runs."""
    folder = small_season(tmp_path)
    child = started(folder)
    os.close(child.child_fd)
    _, status = os.waitpid(child.pid, 0)
    child.closed, child.terminated = True, True
    assert os.WIFEXITED(status)
    with Book.open(folder) as book:
        assert not book.log.read_only


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals")
def test_a_fault_of_the_program_ends_it_with_plain_words(tmp_path: Path) -> None:
    """What was entered is saved; the details are in a file, not on the screen."""
    folder = small_season(tmp_path)
    child = started(folder)
    child.send("\x14")  # ctrl+t
    child.expect(pexpect.EOF)
    child.wait()
    said = child.before.decode(errors="replace")
    assert "Back to Back stopped because of a fault of its own (ZeroDivisionError)." in said
    assert "Everything that was entered is saved." in said
    assert "Traceback" not in said
    details = next(Path(os.environ["HOME"]).rglob("fault.txt"), None) or next(
        Path(os.environ["XDG_STATE_HOME"]).rglob("fault.txt")
    )
    assert "a fault of the program" in details.read_text(encoding="utf-8")
    assert child.exitstatus == 1
    assert not (folder / "log.lock").exists()
