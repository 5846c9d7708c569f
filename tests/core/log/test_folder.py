"""The log folder: missing, in the wrong place, not ours, not permitted, or without log.json."""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.errors import LogFolderError
from core.log import Log
from tests.core.log.samples import KINDS, ROOT, Visit, open_log, python, start_python, write_file

UNPERMITTED = """
import os, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from core.errors import BackToBackError
from tests.core.log.samples import Visit, open_log
os.setgroups([]); os.setgid(65534); os.setuid(65534)  # nobody
try:
    log = open_log(Path(sys.argv[1]))
    print("reads", [head.id for head in log.heads(Visit)], log.read_only, log.read_only_reason)
    log.save(Visit(id="w"))
except BackToBackError as error:
    print(type(error).__name__, error, "|", error.hint)
"""
READ_ONLY_DISK = """
import sys
from pathlib import Path
from core.errors import BackToBackError
from tests.core.log.samples import Visit, open_log
for name in ("log", "new"):
    try:
        log = open_log(Path(sys.argv[1]) / name)
        print("reads", [head.id for head in log.heads(Visit)], log.read_only, log.read_only_reason)
        log.save(Visit(id="w"))
    except BackToBackError as error:
        print(type(error).__name__, error, "|", error.hint)
"""


def test_a_missing_folder_is_made_with_a_folder_for_each_kind(folder: Path) -> None:
    with open_log(folder) as log:
        assert log.folder == folder
        names = {path.name for path in folder.iterdir() if path.is_dir()}
        assert names == {kind.folder for kind in KINDS}


def test_an_empty_folder_becomes_a_log(folder: Path) -> None:
    folder.mkdir()
    (folder / ".version-control").mkdir()
    with open_log(folder) as log:
        assert log.problems == ()
        assert not log.read_only


@pytest.mark.parametrize("options", [{"create": False}, {"read_only": True}])
@pytest.mark.parametrize("made", [False, True])
def test_a_log_that_is_not_there_is_not_made_unless_asked(
    folder: Path, options: dict[str, bool], made: bool
) -> None:
    if made:
        folder.mkdir()
    with pytest.raises(LogFolderError, match="no log") as caught:
        open_log(folder, **options)
    assert caught.value.hint
    assert folder.exists() == made
    assert not made or list(folder.iterdir()) == []


def test_a_missing_parent_is_not_made_unless_asked(folder: Path) -> None:
    deep = folder / "deeper" / "log"
    with pytest.raises(LogFolderError, match=r"There is no folder .*deeper"):
        open_log(deep)
    assert not folder.exists()
    with open_log(deep, parents=True) as log:
        assert not log.read_only


@pytest.mark.parametrize("below", ["", "log"])
def test_a_file_in_place_of_the_folder_is_refused(folder: Path, below: str) -> None:
    write_file(folder, "not a folder")
    with pytest.raises(LogFolderError):
        open_log(folder / below)
    assert folder.read_text() == "not a folder"


def test_a_folder_of_something_else_is_refused_and_left_alone(folder: Path) -> None:
    write_file(folder / "letter.txt", "dear")
    with pytest.raises(LogFolderError, match="holds other files"):
        open_log(folder)
    assert [path.name for path in folder.iterdir()] == ["letter.txt"]


@pytest.mark.parametrize(
    "text", ["", '{"format": 1, "id"', "\xff", "[]", '{"format": 1, "id": ""}']
)
def test_a_broken_log_json_is_put_aside_and_made_anew(folder: Path, text: str) -> None:
    with open_log(folder) as log:
        log.save(Visit(id="v"))
    write_file(folder / "log.json", text.encode("latin-1"))
    with open_log(folder, read_only=True) as log:
        assert log.ids(Visit) == ["v"]
        assert log.id == ""
        assert "log.json cannot be read" in log.problems[0].sentence
    with open_log(folder) as log:
        assert log.ids(Visit) == ["v"]
        assert json.loads((folder / "log.json").read_text()) == {"format": 1, "id": log.id}
        assert [problem.file for problem in log.problems] == ["log.json"]
    assert (folder / "aside/log.json").read_bytes() == text.encode("latin-1")
    with open_log(folder) as log:
        assert log.problems == ()


def test_a_lost_log_json_is_told_and_made_anew(folder: Path) -> None:
    with open_log(folder) as log:
        log.save(Visit(id="v"))
    (folder / "log.json").unlink()
    with open_log(folder, create=False) as log:
        assert log.ids(Visit) == ["v"]
        assert "log.json is missing" in log.problems[0].sentence
    assert (folder / "log.json").exists()


def test_a_relative_path_means_the_same_folder_all_the_time(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(folder.parent)
    with open_log(Path("log")) as log:
        assert log.folder == folder
        (folder.parent / "elsewhere").mkdir()
        monkeypatch.chdir(folder.parent / "elsewhere")
        log.save(Visit(id="v"))
        assert log.ids(Visit) == ["v"]
    assert (folder / "visits/v.json").exists()


def test_two_kinds_of_one_name_are_a_mistake_of_the_program(folder: Path) -> None:
    with pytest.raises(TypeError, match="twice"):
        Log.open(folder, [*KINDS, KINDS[0]])


def test_a_log_whose_folder_was_taken_away_refuses_to_save(folder: Path) -> None:
    with open_log(folder) as log:
        folder.rename(folder.with_name("elsewhere"))
        with pytest.raises(LogFolderError, match="not as it should be"):
            log.save(Visit(id="v"))
        assert not folder.exists()
        folder.with_name("elsewhere").rename(folder)
        log.save(Visit(id="v"))
        assert log.ids(Visit) == ["v"]


def test_a_kinds_folder_that_was_removed_is_made_again(folder: Path) -> None:
    with open_log(folder) as log:
        (folder / "visits").rmdir()
        assert log.ids(Visit) == []
        log.save(Visit(id="v"))
        assert log.ids(Visit) == ["v"]


@pytest.fixture
def open_to_all() -> Iterator[Path]:
    """Return a folder that every user may enter, as pytest's own are not."""
    path = Path(tempfile.mkdtemp())
    path.chmod(0o755)
    yield path
    shutil.rmtree(path)


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="users are told apart another way here")
@pytest.mark.parametrize(
    ("mode", "said"),
    [
        (0o555, "reads ['v'] True The log cannot be written to"),
        (0o000, "LogFolderError There is no permission"),
    ],
)
def test_without_permission_it_reads_only_or_says_so(
    open_to_all: Path, mode: int, said: str
) -> None:
    if os.getuid() != 0:
        pytest.skip("only root can become a user without permission")
    folder = open_to_all / "log"
    with open_log(folder) as log:
        log.save(Visit(id="v"))
    folder.chmod(mode)
    lines = python(UNPERMITTED, folder, ROOT).splitlines()
    assert lines[0].startswith(said)
    if mode:
        assert lines[1].startswith("LogReadOnlyError Nothing was saved. The log cannot be written")


@pytest.mark.skipif(sys.platform != "linux", reason="needs a mount of its own")
def test_on_a_read_only_disk_it_reads_only(tmp_path: Path) -> None:
    with open_log(tmp_path / "log") as log:
        log.save(Visit(id="v"))
    mount = (
        "unshare", "--mount", "--map-root-user", "sh", "-c",
        f'mount --bind "{tmp_path}" "{tmp_path}" && mount -o remount,bind,ro "{tmp_path}"'
        ' && exec "$@"', "sh",
    )  # fmt: skip
    trial = start_python("", prefix=mount)
    _, complaint = trial.communicate()
    if trial.returncode != 0:
        pytest.skip(f"no mounts allowed here: {complaint.strip()}")
    opened, save, create = python(READ_ONLY_DISK, tmp_path, prefix=mount).splitlines()
    assert opened.startswith("reads ['v'] True The log cannot be written to")
    assert "Read-only file system" in opened
    assert save.startswith("LogReadOnlyError Nothing was saved. The log cannot be written to")
    assert create.startswith("LogReadOnlyError")


def test_on_another_disk_in_its_place_nothing_is_saved(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = Path.stat

    def on_another_disk(path: Path, *, follow_symlinks: bool = True) -> os.stat_result:
        status = real(path, follow_symlinks=follow_symlinks)
        if path != folder:
            return status
        return os.stat_result((*status[:2], status.st_dev + 1, *status[3:]))

    with open_log(folder) as log:
        monkeypatch.setattr(Path, "stat", on_another_disk)
        with pytest.raises(LogFolderError, match="another disk"):
            log.save(Visit(id="v"))
        monkeypatch.undo()
        assert log.ids(Visit) == []
