"""Files are known by what they hold; what is none of ours is refused with one sentence."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from core.errors import InputError
from core.exchange import export_csv, export_lines, import_file
from tests.core.exchange.samples import HEADER, empty, read_in, row, rows

GOOD = rows(row(value="7.26"))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b" \n\r\n\t", "is empty"),
        (b"\xef\xbb\xbf", "is neither"),
        (bytes(range(256)) * 8, "is not a text file"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00", "is not a text file"),
        (b"PK\x03\x04\x14\x00\x06\x00\x08\x00\x00\x00!\x00\xb5\xff", "is not a text file"),
        (GOOD.replace("Kettle", "Kéttle").encode("latin-1"), "is not UTF-8 text (line 2)"),
        (GOOD.encode("utf-16"), "is UTF-16 text"),
        (b"# My notes\nnothing to see\n", "neither a CSV of attempts nor a log"),
        (b'{"a": 1}\n', "its first line is not the header of a log"),
        (b"[1, 2]\n", "its first line is not the header of a log"),
        (b"<html><body></body></html>", "neither a CSV"),
        (b"time,speed,rpm\n0,0,1500\n", "neither a CSV"),
    ],
)
def test_refused_with_a_sentence(tmp_path: Path, data: bytes, words: str) -> None:
    file = tmp_path / "a.csv"
    file.write_bytes(data)
    with empty(tmp_path) as book, pytest.raises(InputError) as refusal:
        import_file(book, file)
    assert words in refusal.value.message
    assert refusal.value.message.count("\n") == 0


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with empty(tmp_path) as book:
        with pytest.raises(InputError, match="There is no file"):
            import_file(book, tmp_path / "none.csv")
        with pytest.raises(InputError, match="is a folder"):
            import_file(book, tmp_path)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may read everything")
def test_file_that_may_not_be_read(tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(GOOD, encoding="utf-8")
    file.chmod(0)
    with empty(tmp_path) as book, pytest.raises(InputError, match="cannot be read"):
        import_file(book, file)


@pytest.mark.parametrize("name", ["a.csv", "a.txt", "a.jsonl", "noname"])
def test_the_name_says_nothing(tmp_path: Path, name: str) -> None:
    with empty(tmp_path / "one") as book, empty(tmp_path / "two") as other:
        read_in(book, GOOD)
        for data, count in ((b"".join(export_lines(book)), 3), (export_csv(book).data, 1)):
            (tmp_path / name).write_bytes(data)
            made = import_file(other, tmp_path / name)
            assert (made.went_in + made.there, made.is_clean) == (count, True)


def test_byte_order_mark_and_line_ends_of_windows(tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    with empty(tmp_path) as book:
        assert import_file(book, file).went_in == 1


def test_header_alone_is_fine(tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(f"{HEADER}\n", encoding="utf-8")
    with empty(tmp_path) as book:
        made = import_file(book, file)
        assert made.summary == f"{file}: 0 rows in, 0 rejected."


def test_check_only_saves_nothing(tmp_path: Path) -> None:
    file = tmp_path / "a.csv"
    file.write_text(GOOD, encoding="utf-8")
    with empty(tmp_path) as book:
        made = import_file(book, file, check_only=True)
        assert made.summary == f"{file}: 1 row would go in, 0 rejected."
        assert made.made.machines == ("Kettle Moth",)
        assert (book.sessions(), book.machines(), book.places()) == ([], [], [])
