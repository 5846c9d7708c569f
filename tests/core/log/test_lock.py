"""One writer: a second process opens to read only, and a lock left by a crash is taken over."""

from __future__ import annotations

import json
import os
import time
from pathlib import Path
from typing import Any

import pytest

from core.errors import LogReadOnlyError
from core.log.lock import LOCK_NAME
from core.log.processes import is_running, start_mark
from tests.core.log.samples import Visit, open_log, python, start_python, write_file

HOLD = """
import sys
from pathlib import Path
from tests.core.log.samples import Visit, open_log
with open_log(Path(sys.argv[1])) as log:
    print(log.read_only, flush=True)
    for line in sys.stdin:
        log.save(Visit(id="v", label=line.strip()))
        print("saved", flush=True)
"""
DIE = """
import os, sys
from pathlib import Path
from tests.core.log.samples import open_log
log = open_log(Path(sys.argv[1]))
print(os.getpid(), log.read_only, flush=True)
os._exit(0)
"""
RACE = """
import sys
from pathlib import Path
from tests.core.log.samples import open_log
print("ready", flush=True)
sys.stdin.readline()
log = open_log(Path(sys.argv[1]))
print("writer" if not log.read_only else "reader", flush=True)
sys.stdin.readline()
"""


def _lock(folder: Path, **changes: object) -> dict[str, object]:
    """Leave a lock of this process behind, with some of it changed; return what stands in it."""
    pid = os.getpid()
    host = os.uname().nodename
    said = {"pid": pid, "host": host, "started": start_mark(pid), "since": "2026-04-12T07:00:00"}
    written: dict[str, object] = {**said, "mark": "x", **changes}
    write_file(folder / LOCK_NAME, json.dumps(written))
    return written


@pytest.fixture
def folder(folder: Path) -> Path:
    """Return a log with one visit."""
    with open_log(folder) as log:
        log.save(Visit(id="v", label="first"))
    return folder


def _say(process: Any, line: str = "") -> str:
    """Hand a process a line, if any, and return the next line it prints."""
    if line:
        process.stdin.write(line + "\n")
        process.stdin.flush()
    return str(process.stdout.readline()).strip()


def test_the_lock_says_who_and_is_given_back(folder: Path) -> None:
    with open_log(folder) as log:
        said = json.loads((folder / LOCK_NAME).read_text())
        assert said["pid"] == os.getpid()
        assert said["host"] == os.uname().nodename
        assert said["started"] == start_mark(os.getpid()) != ""
        assert said["since"] == "2026-04-12T08:30:00+00:00"
        assert not log.read_only
        assert log.owner is None
        assert log.read_only_reason == ""
    assert not (folder / LOCK_NAME).exists()
    log.close()
    with pytest.raises(LogReadOnlyError, match="closed"):
        log.save(Visit(id="v"))
    assert log.get(Visit, "v").label == "first"


def test_a_second_process_reads_only_and_sees_what_the_first_saves(folder: Path) -> None:
    writer = start_python(HOLD, folder)
    assert _say(writer) == "False"
    with open_log(folder) as log:
        assert log.read_only
        assert log.owner is not None
        assert log.owner.pid == writer.pid
        assert log.owner.host == os.uname().nodename
        assert str(writer.pid) in log.owner.sentence
        assert log.read_only_reason == log.owner.sentence
        with pytest.raises(LogReadOnlyError, match=f"Nothing was saved.*{writer.pid}") as caught:
            log.save(Visit(id="v", label="mine"))
        assert caught.value.hint
        assert [head.label for head in log.heads(Visit)] == ["first"]
        assert not log.refresh()
        assert _say(writer, "second") == "saved"
        assert log.get(Visit, "v").label == "second"
        assert log.refresh()
        assert [head.label for head in log.heads(Visit)] == ["second"]
        assert not log.refresh()
    assert _say(writer, "third") == "saved"  # the reader's leaving did not take the lock away
    writer.communicate()
    with open_log(folder) as log:
        assert not log.read_only
        assert log.get(Visit, "v").label == "third"


def test_a_second_log_in_the_same_process_reads_only_too(folder: Path) -> None:
    with open_log(folder) as first, open_log(folder) as second:
        assert (first.read_only, second.read_only) == (False, True)
        assert second.owner is not None
        assert second.owner.pid == os.getpid()
        second.close()
        first.save(Visit(id="v", label="still mine"))


def test_the_lock_of_a_process_that_died_is_taken_over(folder: Path) -> None:
    pid, read_only = python(DIE, folder).split()
    assert read_only == "False"
    assert json.loads((folder / LOCK_NAME).read_text())["pid"] == int(pid)
    with open_log(folder) as log:
        assert not log.read_only
        log.save(Visit(id="v", label="second"))
    assert sorted(path.name for path in folder.iterdir()) == ["bench", "log.json", "visits"]


def test_the_lock_of_a_number_that_another_process_has_now_is_taken_over(folder: Path) -> None:
    _lock(folder, started="another boot:12345")
    with open_log(folder) as log:
        assert not log.read_only


def test_without_a_start_time_a_running_process_keeps_its_lock(folder: Path) -> None:
    _lock(folder, started="")
    with open_log(folder) as log:
        assert log.read_only


def test_the_lock_of_another_computer_is_never_stale(folder: Path) -> None:
    said = _lock(folder, host="other-laptop", pid=2**22 + 1)
    with open_log(folder) as log:
        assert log.read_only
        assert log.owner is not None
        assert "the computer other-laptop" in log.owner.sentence
        assert "since 2026-04-12 07:00" in log.owner.sentence
        assert "delete log.lock" in log.owner.hint
    assert json.loads((folder / LOCK_NAME).read_text()) == said


@pytest.mark.parametrize("text", ["", '{"pid": 12', "\x00\x00", "[]"])
def test_an_unreadable_lock_counts_while_it_is_fresh_and_not_when_it_is_old(
    folder: Path, text: str
) -> None:
    path = write_file(folder / LOCK_NAME, text)
    with open_log(folder) as log:
        assert log.read_only
        assert log.owner is not None
        assert "unreadable" in log.owner.sentence
        assert "delete log.lock" in log.owner.hint
    an_hour_ago = time.time() - 3600
    os.utime(path, (an_hour_ago, an_hour_ago))
    with open_log(folder) as log:
        assert not log.read_only


def test_a_lock_deleted_by_hand_is_taken_again_with_the_next_save(folder: Path) -> None:
    with open_log(folder) as log:
        (folder / LOCK_NAME).unlink()
        log.save(Visit(id="v", label="second"))
        assert (folder / LOCK_NAME).exists()
        with open_log(folder) as other:
            assert other.read_only


def test_who_lost_the_lock_stops_writing(folder: Path) -> None:
    with open_log(folder) as log:
        held = _lock(folder, host="other-laptop")
        with pytest.raises(LogReadOnlyError, match="taken over"):
            log.save(Visit(id="v", label="second"))
        assert log.read_only
        assert log.get(Visit, "v").label == "first"
    assert json.loads((folder / LOCK_NAME).read_text()) == held


@pytest.mark.parametrize("left_over", [False, True])
def test_of_many_that_open_at_once_one_writes(folder: Path, left_over: bool) -> None:
    if left_over:
        _lock(folder, started="another boot:12345")
    racers = [start_python(RACE, folder) for _ in range(6)]
    try:
        assert [_say(racer) for racer in racers] == ["ready"] * 6
        for racer in racers:
            racer.stdin.write("go\n")
            racer.stdin.flush()
        roles = sorted(_say(racer) for racer in racers)
        assert roles == ["reader"] * 5 + ["writer"]
        assert [path.name for path in folder.iterdir() if LOCK_NAME in path.name] == [LOCK_NAME]
    finally:
        for racer in racers:
            racer.communicate("stop\n")


def test_to_read_only_no_lock_is_taken_or_looked_at(folder: Path) -> None:
    with open_log(folder, read_only=True) as log:
        assert not (folder / LOCK_NAME).exists()
        assert log.read_only
        assert log.owner is None
        with pytest.raises(LogReadOnlyError, match="opened to read only"):
            log.save(Visit(id="v"))


def test_processes_are_told_apart() -> None:
    sleeper = start_python("import sys; sys.stdin.readline()")
    try:
        assert is_running(sleeper.pid)
        assert start_mark(sleeper.pid) == start_mark(sleeper.pid)
        assert start_mark(sleeper.pid) != start_mark(os.getpid())
    finally:
        sleeper.communicate()
    assert not is_running(sleeper.pid)
    assert not is_running(0)
    assert not is_running(2**40)
    assert start_mark(2**22 + 1) == ""
