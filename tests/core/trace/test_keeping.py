"""Files of recordings kept beside the log: by content, once, never altered."""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
import pytest

from core.errors import InputError, LogError
from core.trace.keeping import is_kept_whole, keep_file, kept_path
from core.trace.reading import read_trace
from core.trace.traces import Trace
from tests.core.trace.synthetic import csv_text

TEXT = csv_text(np.arange(0, 5, 0.1), np.arange(0, 5, 0.1))


def recording(folder: Path, text: str = TEXT) -> tuple[Path, Trace]:
    path = folder / "ride.csv"
    path.write_text(text)
    return path, read_trace(path)


def test_kept_under_the_hash_of_its_bytes(tmp_path: Path) -> None:
    path, trace = recording(tmp_path)
    place = keep_file(tmp_path, path, trace)
    assert place == tmp_path / "traces" / f"{hashlib.sha256(TEXT.encode()).hexdigest()}.csv"
    assert place.read_bytes() == path.read_bytes()
    assert [file.name for file in place.parent.iterdir()] == [place.name]


def test_kept_once(tmp_path: Path) -> None:
    path, trace = recording(tmp_path)
    place = keep_file(tmp_path, path, trace)
    before = place.stat().st_mtime_ns
    assert keep_file(tmp_path, path, trace) == place
    assert place.stat().st_mtime_ns == before


def test_broken_copy_is_made_good(tmp_path: Path) -> None:
    path, trace = recording(tmp_path)
    place = keep_file(tmp_path, path, trace)
    place.write_text("half")
    assert keep_file(tmp_path, path, trace).read_bytes() == path.read_bytes()


def test_file_that_changed_since_is_refused(tmp_path: Path) -> None:
    path, trace = recording(tmp_path)
    path.write_text(TEXT + "9,9\n")
    with pytest.raises(InputError, match="has changed since it was read"):
        keep_file(tmp_path, path, trace)
    assert list((tmp_path / "traces").iterdir()) == []


def test_file_that_is_gone_is_refused(tmp_path: Path) -> None:
    path, trace = recording(tmp_path)
    path.unlink()
    with pytest.raises(InputError, match="cannot be read any more"):
        keep_file(tmp_path, path, trace)


def test_no_place_for_it_is_told_in_words_of_the_log(tmp_path: Path) -> None:
    path, trace = recording(tmp_path)
    (tmp_path / "traces").write_text("a file in the way")
    with pytest.raises(LogError, match=r"ride\.csv was not kept"):
        keep_file(tmp_path, path, trace)
    assert not is_kept_whole(tmp_path, trace)
    assert kept_path(tmp_path, trace).name.endswith(".csv")
