"""Files that are no recording, or far too large: one sentence, bounded memory and time."""

from __future__ import annotations

import gzip
import os
import re
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from core.errors import InputError
from core.trace.formats.blocks import LARGEST, FileBlocks
from core.trace.formats.rejects import MOST_KEPT, Rejects
from core.trace.reading import read_trace
from tests.core.trace.conftest import Read
from tests.core.trace.synthetic import csv_text, nmea_text, recorded, season_day

ROOT = Path(__file__).parents[3]


def good_nmea() -> str:
    rng = np.random.default_rng(9)
    return nmea_text(*recorded(season_day(1, rng)[0], 5, 0.05, rng))


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "is empty"),
        (b"   \r\n\n  ", "nothing but blanks"),
        (bytes(range(256)) * 40, "not a text file|no row"),
        (b"\0" * 5000, "not a text file"),
        (os.urandom(20_000), "not a text file|no table|no row|not whole"),
        (gzip.compress(good_nmea().encode()), "packed"),
        (csv_text(np.arange(9.0), np.arange(9.0)).encode("utf-16"), "UTF-16"),
        (b"hello", "no table"),
        (b"$GPRMC,", "no row with a position"),
        (b"{}", "no table"),
    ],
    ids=["empty", "blanks", "all bytes", "zeros", "random", "packed", "utf-16", "word", "stub",
         "json"],
)  # fmt: skip
def test_what_is_no_recording_is_refused_in_one_sentence(
    read: Read, content: bytes, words: str
) -> None:
    with pytest.raises(InputError, match=words) as refused:
        read(content)
    assert "\n" not in refused.value.message
    assert refused.value.message.isprintable()


def test_missing_folder_and_pipe(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="There is no file"):
        read_trace(tmp_path / "none")
    with pytest.raises(InputError, match="is a folder"):
        read_trace(tmp_path)
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(InputError, match="a pipe or a device"):
        read_trace(pipe)


def test_two_gigabytes_are_refused_at_once(tmp_path: Path) -> None:
    """A sparse file: it costs nothing on the disk, and reading it would."""
    path = tmp_path / "large.nmea"
    with path.open("wb") as file:
        file.write(good_nmea().encode())
        file.truncate(2_000_000_000)
    begun = time.process_time()
    with pytest.raises(InputError, match="has 2,000 MB, more than any recording"):
        read_trace(path)
    assert time.process_time() - begun < 1.0
    assert path.stat().st_size > LARGEST


_READ = """
import sys
from pathlib import Path
from core.errors import InputError
from core.trace.reading import read_trace
import numpy
def peak():
    status = dict(line.split(":", 1) for line in open("/proc/self/status"))
    return int(status["VmHWM"].split()[0])
before = peak()
try:
    said = str(read_trace(Path(sys.argv[1])).rows)
except InputError as error:
    said = error.message
print((peak() - before) // 1024)
print(said)
"""


def memory_of(path: Path) -> tuple[int, str]:
    """Return how many MB reading takes beyond what Python and NumPy do, and what is said."""
    done = subprocess.run(
        [sys.executable, "-c", _READ, str(path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    grown, said = done.stdout.splitlines()
    return int(grown), said


@pytest.mark.skipif(sys.platform != "linux", reason="reads the process status of Linux")
@pytest.mark.parametrize(
    ("head", "words"),
    [
        (b"$GPRMC,", "no row with a position"),
        (b"time,speed (km/h)\n0,1\n0.1,2\n0.2,", "holds 2 rows that can be used"),
        (b"<gpx><trk><trkseg><!-- ", "larger than any track point"),
    ],
    ids=["sentence", "cell", "comment"],
)
def test_a_line_without_end_takes_no_memory(tmp_path: Path, head: bytes, words: str) -> None:
    """200 MB without a line end, mostly holes; 60 MB are far more than the blocks take."""
    path = tmp_path / "long"
    with path.open("wb") as file:
        file.write(head + b"7" * 100_000)
        file.truncate(200_000_000)
        if head.startswith(b"<"):
            file.seek(100_000)
            for _ in range(40):
                file.write(b"7" * 1_000_000)
    grown, said = memory_of(path)
    assert re.search(words, said), said
    assert grown < 60


def test_a_million_bad_lines_are_counted_and_a_hundred_kept(read: Read) -> None:
    good = good_nmea()
    bad = good.splitlines()[0][:-1] + "x\r\n"
    trace = read(good + bad * 100_000)
    assert trace.rejected_total == 100_000
    assert len(trace.rejected) == MOST_KEPT


def test_a_file_of_nothing_but_bad_lines_is_given_up(
    read: Read, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("core.trace.formats.rejects.MOST_REJECTED", 1000)
    bad = good_nmea().splitlines()[0][:-1] + "x\r\n"
    with pytest.raises(InputError, match="More than 1,000 lines cannot be read"):
        read(bad * 2000)
    garbled = good_nmea().replace(",A,", ",a,")
    with pytest.raises(InputError, match="More than 1,000 lines cannot be read"):
        read(garbled * 20)


def test_lines_of_blocks_are_numbered_through(tmp_path: Path) -> None:
    """Over many blocks, with all three line ends at their borders."""
    ends = ["\n", "\r\n", "\r"]
    text = "".join(f"{'x' * (1 + i % 97)}{ends[i % 3]}" for i in range(60_000))
    path = tmp_path / "lines"
    path.write_bytes(text.encode())
    number = 1
    for data, first in FileBlocks(path).lines(Rejects()):
        assert first == number
        number += len(re.findall(rb"\r\n|\n|\r", data))
    assert number == 60_001


def test_a_row_is_lost_neither_at_the_border_of_blocks_nor_behind_a_long_line(read: Read) -> None:
    good = good_nmea()
    count = len(good.splitlines())
    text = good + "x" * 3_000_000 + "\r\n" + good + "y" * 2_000_000 + "\n" + good
    trace = read(text)
    assert trace.rows == 3 * count
    assert trace.reject_counts == {"too long": 2}
    assert [r.line for r in trace.rejected] == [count + 1, 2 * count + 2]
    assert int(trace.line[-1]) == 3 * count + 2


def test_too_many_rows_are_refused(read: Read, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("core.trace.formats.rows.MOST_ROWS", 10)
    with pytest.raises(InputError, match="more than 10 rows"):
        read(good_nmea())
