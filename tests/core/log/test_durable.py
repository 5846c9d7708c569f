"""A file is written beside, synced, put in place, and its folder synced, in this order."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from core.errors import LogError, LogFolderError, LogFullError, LogReadOnlyError
from core.log.durable import explain, sweep, write_durably
from core.log.lock import LOCK_NAME
from tests.core.log.samples import Visit, open_log, write_file

MARK = "0badcafe"


def _watch(patch: pytest.MonkeyPatch) -> list[str]:
    """Return the list of steps that writing takes, in order."""
    steps: list[str] = []
    real_sync, real_write, real_replace = os.fsync, os.write, os.replace

    def fsync(handle: int) -> None:
        kind = "folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file"
        steps.append(f"sync {kind}")
        real_sync(handle)

    def write(handle: int, data: Any) -> int:
        steps.append("write")
        return real_write(handle, bytes(data)[:7])  # as a system may that is short of room

    def replace(source: Path, target: Path) -> None:
        steps.append(f"replace {Path(source).parent == Path(target).parent}")
        real_replace(source, target)

    patch.setattr(os, "fsync", fsync)
    patch.setattr(os, "write", write)
    patch.setattr(os, "replace", replace)
    return steps


def test_the_steps_and_their_order(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = write_file(tmp_path / "v.json", "old")
    with monkeypatch.context() as patch:
        steps = _watch(patch)
        write_durably(target, b"twenty bytes of data", MARK)
    assert steps == ["write"] * 3 + ["sync file", "replace True", "sync folder"]
    assert target.read_bytes() == b"twenty bytes of data"
    assert [path.name for path in tmp_path.iterdir()] == ["v.json"]


def test_a_save_is_durable_when_it_returns(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with open_log(folder) as log, monkeypatch.context() as patch:
        steps = _watch(patch)
        log.save(Visit(id="v"))
        assert [step for step in steps if step != "write"] == [
            "sync file",
            "replace True",
            "sync folder",
        ]


def test_where_folders_cannot_be_synced_files_still_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr("core.log.durable._SYNCS_FOLDERS", False)
        steps = _watch(patch)
        write_durably(tmp_path / "v.json", b"data", MARK)
    assert steps == ["write", "sync file", "replace True"]
    assert (tmp_path / "v.json").read_bytes() == b"data"


def test_a_share_that_refuses_to_sync_folders_is_no_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.fsync

    def fsync(handle: int) -> None:
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(errno.EINVAL, "Invalid argument")
        real(handle)

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", fsync)
        write_durably(tmp_path / "v.json", b"data", MARK)
    assert (tmp_path / "v.json").read_bytes() == b"data"


@pytest.mark.parametrize(("held", "tries"), [(3, 4), (100, 10)])
def test_a_file_that_is_held_for_a_moment_is_tried_again_where_that_happens(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, held: int, tries: int
) -> None:
    real, asked = os.replace, []

    def replace(source: Path, target: Path) -> None:
        asked.append(target)
        if len(asked) <= held:
            raise PermissionError(errno.EACCES, "held by a scanner")
        real(source, target)

    with monkeypatch.context() as patch:
        patch.setattr("core.log.durable._MAY_BE_HELD", True)
        patch.setattr("core.log.durable._HOLD", 0.0)
        patch.setattr(os, "replace", replace)
        if held < tries:
            write_durably(tmp_path / "v.json", b"data", MARK)
        else:
            with pytest.raises(PermissionError):
                write_durably(tmp_path / "v.json", b"data", MARK)
    assert len(asked) == tries
    assert [path.name for path in tmp_path.iterdir()] == (["v.json"] if held < tries else [])


LEFT = (".v.json.01234567.saving", ".v.json.format1.89abcdef.saving")
OTHERS = ("v.json", ".v.json.tmp", ".saving", f".v.json.{MARK}.saving", "v.json.01234567.saving")


def test_only_temporary_files_of_other_writers_are_swept(tmp_path: Path) -> None:
    for name in (*LEFT, *OTHERS):
        write_file(tmp_path / name, "x")
    sweep(tmp_path, [path.name for path in tmp_path.iterdir()], MARK)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(OTHERS)


@pytest.mark.parametrize("crashed", [False, True])
def test_stale_temporary_files_are_swept_at_the_start(folder: Path, crashed: bool) -> None:
    open_log(folder).close()
    left = write_file(folder / "visits" / LEFT[0], '{"half": ')
    if crashed:
        os.utime(write_file(folder / LOCK_NAME, "half a lo"), (0, 0))
    with open_log(folder) as log:
        assert left.exists() != crashed
        assert log.ids(Visit) == []
        assert log.problems == ()
    assert not left.exists()


def test_to_read_only_nothing_is_swept(folder: Path) -> None:
    open_log(folder).close()
    left = write_file(folder / "visits" / LEFT[0], '{"half": ')
    with open_log(folder, read_only=True) as log:
        assert log.ids(Visit) == []
    assert left.exists()


@pytest.mark.parametrize(
    ("number", "refusal"),
    [
        (errno.ENOSPC, LogFullError),
        (errno.EFBIG, LogFullError),
        (errno.EROFS, LogReadOnlyError),
        (errno.EPERM, LogReadOnlyError),
        (errno.ENOENT, LogFolderError),
        (errno.ENOTDIR, LogFolderError),
        (errno.EIO, LogError),
    ],
)
def test_what_the_system_answers_becomes_one_sentence(
    number: int, refusal: Callable[..., LogError]
) -> None:
    said = explain(OSError(number, os.strerror(number)), "x was not saved")
    assert type(said) is refusal
    assert "x was not saved" in str(said)
    assert str(said).endswith(".")
    assert "\n" not in str(said)
