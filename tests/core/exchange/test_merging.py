"""A file read in again, longer, shorter, mended or contradicting: nothing is ever overwritten."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from core.errors import LogFullError
from core.session import Book, Place, Session, strike
from core.setup import Machine, Part
from tests.core.exchange.samples import HEADER, empty, exported, only_session, read_in, row, rows

FOUR = [row(value=f"7.{i}", direction="WE"[i % 2]) for i in range(4)]


def files(folder: Path) -> dict[str, bytes]:
    """Return every document file of a log with its bytes."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*.json")}


def test_twice_is_the_same_as_once(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        before = files(book.log.folder)
        made = read_in(book, rows(*FOUR))
        assert (made.went_in, made.there, made.sessions_there, made.is_clean) == (0, 4, 1, True)
        assert files(book.log.folder) == before


def test_rows_at_the_end_are_added(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR[:2]))
        made = read_in(book, rows(*FOUR))
        assert (made.went_in, made.there, made.sessions_added_to) == (2, 2, ("S01",))
        session = only_session(book)
        assert [a.n for a in session.attempts] == [1, 2, 3, 4]
        assert session.trail[-1].action == "import"


def test_a_shorter_file_changes_nothing(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        made = read_in(book, rows(*FOUR[1:3]))
        assert (made.went_in, made.there, made.is_clean) == (0, 2, True)


def test_a_mended_row_goes_to_its_place(tmp_path: Path) -> None:
    broken = [*FOUR[:1], row(value="710", direction="E"), *FOUR[2:]]
    with empty(tmp_path) as book:
        assert read_in(book, rows(*broken)).went_in == 3
        assert [a.n for a in only_session(book).attempts] == [1, 3, 4]
        made = read_in(book, rows(*FOUR))
        assert (made.went_in, made.is_clean) == (1, True)
        assert [(a.n, a.value) for a in only_session(book).attempts] == [
            (1, 7.0),
            (2, 7.1),
            (3, 7.2),
            (4, 7.3),
        ]


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ([FOUR[0], row(value="9.9", direction="E"), *FOUR[2:]], "attempt 2 7.10 s E of the log"),
        ([FOUR[1], FOUR[0], *FOUR[2:]], "of the log is not in the file"),
        ([row(value="7.0", direction="W", started="2026-04-12T11:00+02:00")], "another start"),
        ([row(value="7.0", direction="W", place="Quillowmere lane")], "another place"),
        ([row(value="7.0", direction="W", tag="BOG"), *FOUR[1:]], "attempt 1 7.00 s W of the log"),
        ([row(value="7.0", direction="W", struck="LATE"), *FOUR[1:]], "attempt 1 7.00 s W"),
    ],
)
def test_contradictions_are_reported(tmp_path: Path, lines: list[str], words: str) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        before = files(book.log.folder)
        made = read_in(book, rows(*lines))
        (conflict,) = made.conflicts
        if "another start" in words:
            words = "give the one in the file another label"
        assert words in conflict.reason
        assert (made.went_in, made.contradicting, made.is_clean) == (0, len(lines), False)
        sessions = {n: d for n, d in files(book.log.folder).items() if n.startswith("sessions")}
        assert sessions == {n: d for n, d in before.items() if n.startswith("sessions")}


def test_a_session_worked_on_since_is_not_filled_up(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        session = only_session(book)
        book.act(session, lambda s: strike(s, 2, "GUST", book.clock()))
        made = read_in(book, rows(*FOUR))
        assert "attempt 2 7.10 s E of the log" in made.conflicts[0].reason
        struck = only_session(book).attempts[1].strike
        assert struck is not None
        assert struck.code == "GUST"


def test_a_date_fits_a_session_with_a_time(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        dated = [line.replace("2026-04-12T10:05+02:00", "2026-04-12") for line in FOUR]
        assert read_in(book, rows(*dated)).there == 4


def test_what_the_file_does_not_tell_contradicts_nothing(tmp_path: Path) -> None:
    header = f"{HEADER},slot:clutch"
    lines = [row(",Pepper", value=f"7.{i}", tag="BOG", note="x") for i in range(2)]
    with empty(tmp_path) as book:
        read_in(book, rows(*lines, header=header))
        bare = "session,started,machine,test,value\n" + "".join(
            f"S01,2026-04-12,Kettle Moth,0-50,7.{i}\n" for i in range(3)
        )
        made = read_in(book, bare)
        assert (made.went_in, made.there, made.is_clean) == (1, 2, True)
        session = only_session(book)
        assert [a.sheet for a in session.attempts] == [0, 0, 0]


def test_a_swap_in_added_rows_starts_a_sheet(tmp_path: Path) -> None:
    header = f"{HEADER},slot:final_sprocket"
    lines = [row(c, value="7.2") for c in (",66T", ",66T", ",60T")]
    with empty(tmp_path) as book:
        read_in(book, rows(*lines[:1], header=header))
        read_in(book, rows(*lines, header=header))
        assert [a.sheet for a in only_session(book).attempts] == [0, 0, 1]


def test_labels_used_twice_in_a_log_are_told_apart(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        session = only_session(book)
        later = session.started + timedelta(days=7)
        book.save(msgspec.structs.replace(session, id="later", started=later))
        text = exported(book)
        assert {line.split(",")[0] for line in text.splitlines()[1:]} == {"S01", "S01b"}
        assert read_in(book, text).there == 8
    with empty(tmp_path / "other") as other:
        assert read_in(other, text).went_in == 8
        assert exported(other) == text


def test_a_broken_session_is_put_aside_and_comes_back_from_the_file(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        read_in(book, rows(*FOUR))
        (file,) = (book.log.folder / "sessions").glob("*.json")
    whole = file.read_bytes()
    file.write_bytes(whole[: len(whole) // 2])
    with Book.open(tmp_path / "log") as book:
        made = read_in(book, rows(*FOUR))
        assert (made.went_in, made.is_clean) == (4, True)
        assert file.read_bytes() == whole
        (aside,) = (tmp_path / "log" / "aside").rglob("*.json")
        assert aside.read_bytes() == whole[: len(whole) // 2]


class _Rationed:
    """Saves so many times and then finds the disk full."""

    def __init__(self, left: int) -> None:
        self.left = left
        self._save = Book.save

    def __call__(self, book: Book, *documents: Session | Machine | Part | Place) -> None:
        """Save, while there is room."""
        if not self.left:
            raise LogFullError("The disk is full.")
        self.left -= 1
        self._save(book, *documents)


def test_a_run_cut_off_half_way_is_done_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = [row(value="7.2", session=f"S{i:02d}", started=f"2026-04-{i:02d}") for i in range(1, 9)]
    with empty(tmp_path / "whole") as book:
        read_in(book, rows(*lines))
        whole = exported(book)
    for stop_after in range(11):  # a machine, a place, eight sessions, and one to spare
        with empty(tmp_path / str(stop_after)) as book:
            rationed = _Rationed(stop_after)
            with monkeypatch.context() as patched:
                patched.setattr(Book, "save", lambda *given, save=rationed: save(*given))
                if stop_after < 10:
                    with pytest.raises(LogFullError):
                        read_in(book, rows(*lines))
            made = read_in(book, rows(*lines))
            assert made.is_clean
            assert exported(book) == whole


_KILLED = """
import sys
from pathlib import Path
from core.session import Book
from core.exchange import import_file
with Book.open(Path(sys.argv[1])) as book:
    print("open", flush=True)
    import_file(book, Path(sys.argv[2]))
"""


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL is not known there")
def test_killed_and_done_again(tmp_path: Path) -> None:
    lines = [
        row(value="7.2", session=f"S{i:03d}", started=f"2026-01-01T{i // 60:02d}:{i % 60:02d}Z")
        for i in range(300)
    ]
    file, log = tmp_path / "a.csv", tmp_path / "log"
    file.write_text(rows(*lines), encoding="utf-8")
    command = [sys.executable, "-c", _KILLED, str(log), str(file)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "open\n"
        deadline = time.monotonic() + 60
        while len(list((log / "sessions").glob("*.json"))) < 20 and time.monotonic() < deadline:
            time.sleep(0.002)
        process.send_signal(signal.SIGKILL)
    saved = len(list((log / "sessions").glob("*.json")))
    assert 20 <= saved < 300
    with Book.open(log) as book:
        made = read_in(book, rows(*lines))
        assert (made.there, made.went_in, made.is_clean) == (saved, 300 - saved, True)
        assert not book.log.problems
