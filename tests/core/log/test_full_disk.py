"""On a full disk nothing that was saved is lost, and the next save works once there is room."""

from __future__ import annotations

import errno
import os
import sys
from pathlib import Path

import msgspec
import pytest

from core.errors import LogError, LogFullError, LogReadOnlyError
from tests.core.log.samples import Visit, open_log, python, start_python

SMALL_DISK = """
import os, sys
from pathlib import Path
from core.errors import LogFullError
from tests.core.log.samples import Visit, open_log
disk = Path(sys.argv[1])
def fill():
    for number in range(1000):
        try:
            (disk / f"fill{number}").write_bytes(b"x" * 4096)
        except OSError:
            return
log = open_log(disk / "log")
ballast = disk / "ballast"
ballast.write_bytes(b"x" * 65536)
saved = 0
try:
    while True:
        log.save(Visit(id=f"v{saved:04d}", note="n" * 5000))
        saved += 1
except LogFullError as error:
    print("full", saved > 3, error, "|", error.hint)
assert len(log.heads(Visit)) == saved
for number in range(saved):
    assert log.get(Visit, f"v{number:04d}").note == "n" * 5000
try:
    log.save(Visit(id="v0000", note="m" * 20000))
except LogFullError:
    print("still full")
assert log.get(Visit, "v0000").note == "n" * 5000
assert not [path for path in disk.rglob("*") if path.name.endswith(".saving")]
log.close()
fill()
with open_log(disk / "log") as log:
    print("opened", len(log.all(Visit)) == saved, log.read_only, log.read_only_reason)
for path in (ballast, *disk.glob("fill*")):
    path.unlink()
with open_log(disk / "log") as log:
    log.save(Visit(id="v0000", note="m" * 20000))
    print("room", log.get(Visit, "v0000").note == "m" * 20000, len(log.all(Visit)) == saved)
fill()
try:
    open_log(disk / "another")
except LogFullError as error:
    print("none made", error)
"""
SMALL_FILES = """
import resource, sys
from pathlib import Path
from core.errors import LogFullError
from tests.core.log.samples import Visit, open_log
log = open_log(Path(sys.argv[1]))
log.save(Visit(id="v", label="first"))
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, resource.RLIM_INFINITY))
try:
    log.save(Visit(id="v", note="n" * 5000))
except LogFullError as error:
    print(error)
print(log.get(Visit, "v").label, [head.label for head in log.heads(Visit)])
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
log.save(Visit(id="v", label="second", note="n" * 5000))
print(log.get(Visit, "v").label, sorted(path.name for path in log.folder.rglob("*")))
"""
BEFORE = Visit(id="v", label="before")
AFTER = msgspec.structs.replace(BEFORE, label="after")


@pytest.mark.skipif(sys.platform != "linux", reason="needs a mount of its own")
def test_a_small_disk_that_runs_full(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = (
        "unshare", "--mount", "--map-root-user", "sh", "-c",
        f'mount -t tmpfs -o size=256k tmpfs "{disk}" && exec "$@"', "sh",
    )  # fmt: skip
    trial = start_python("", prefix=mount)
    _, complaint = trial.communicate()
    if trial.returncode != 0:
        pytest.skip(f"no mounts allowed here: {complaint.strip()}")
    full, still, opened, room, none = python(SMALL_DISK, disk, prefix=mount).splitlines()
    assert full.startswith("full True The disk is full: visits/v")
    assert "untouched" in full
    assert still == "still full"
    assert opened == "opened True True The disk is full: the log is open to read only."
    assert room == "room True True"
    assert none.startswith("none made The disk is full")


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on file sizes to set")
def test_a_file_cut_off_by_the_system(folder: Path) -> None:
    refused, unchanged, then = python(SMALL_FILES, folder).splitlines()
    assert refused == "The disk is full: visits/v.json was not saved."
    assert unchanged == "first ['first']"
    assert then == "second ['bench', 'log.json', 'log.lock', 'v.json', 'visits']"


@pytest.mark.parametrize(
    ("number", "refusal"),
    [
        (errno.ENOSPC, LogFullError),
        (errno.EDQUOT, LogFullError),
        (errno.EROFS, LogReadOnlyError),
        (errno.EACCES, LogReadOnlyError),
        (errno.EIO, LogError),
    ],
)
@pytest.mark.parametrize("call", ["open", "write", "fsync"])
def test_whichever_step_fails_the_document_stays_as_it_was(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    call: str,
    number: int,
    refusal: type[LogError],
) -> None:
    with open_log(folder) as log:
        log.save(BEFORE)
        with monkeypatch.context() as patch:
            patch.setattr(os, call, _failing(number))
            with pytest.raises(refusal) as caught:
                log.save(AFTER)
        assert type(caught.value) is refusal
        assert "visits/v.json was not saved" in str(caught.value)
        assert log.get(Visit, "v") == BEFORE
        assert [head.label for head in log.heads(Visit)] == ["before"]
        assert [path.name for path in (folder / "visits").iterdir()] == ["v.json"]
        log.save(AFTER)
        assert log.get(Visit, "v") == AFTER


def test_documents_before_the_refused_one_are_saved_and_those_after_it_are_not(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[str] = []
    real = os.replace

    def third_time_full(source: Path, target: Path) -> None:
        if len(written) == 2:
            raise OSError(errno.ENOSPC, "No space left on device")
        written.append(target.name)
        real(source, target)

    with open_log(folder) as log:
        monkeypatch.setattr(os, "replace", third_time_full)
        with pytest.raises(LogFullError, match=r"visits/b\.json was not saved"):
            log.save(*(Visit(id=name) for name in "dcba"))
        assert written == ["d.json", "c.json"]
        assert log.ids(Visit) == ["c", "d"]
    monkeypatch.undo()
    with open_log(folder) as log:
        assert log.ids(Visit) == ["c", "d"]


def test_when_the_folder_could_not_be_synced_the_next_save_writes_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_log(folder) as log:
        log.save(BEFORE)
        with monkeypatch.context() as patch:
            patch.setattr("core.log.durable.sync_folder", _failing(errno.EIO))
            with pytest.raises(LogError, match="answers with an error"):
                log.save(AFTER)
        synced: list[Path] = []
        monkeypatch.setattr("core.log.durable.sync_folder", synced.append)
        log.save(AFTER)
        assert synced == [folder / "visits"]
        assert log.get(Visit, "v") == AFTER
        log.save(AFTER)
        assert synced == [folder / "visits"]
        assert log.problems == ()


def test_what_is_kept_of_another_program_is_kept_whole_or_the_save_fails(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = folder / "visits/v.json"
    with open_log(folder) as log:
        log.save(BEFORE)
        theirs = path.read_bytes().replace(b"before", b"theirs")
        path.with_name("incoming").write_bytes(theirs)
        path.with_name("incoming").replace(path)
        with monkeypatch.context() as patch:
            patch.setattr(os, "write", _failing(errno.ENOSPC))
            with pytest.raises(LogFullError):
                log.save(AFTER)
        assert path.read_bytes() == theirs
        log.save(AFTER)
        assert log.get(Visit, "v") == AFTER
        assert "changed by another program" in log.problems[-1].sentence
    assert (folder / "aside/visits/v.json").read_bytes() == theirs


def _failing(number: int) -> object:
    """Return a function that fails as the system would."""

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    return fail
