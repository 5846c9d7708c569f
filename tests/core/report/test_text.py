"""Reports as text: 80 columns whatever they hold, no control codes, plain ASCII where asked for."""

from __future__ import annotations

import doctest
import importlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.report import (
    Bullets,
    Column,
    Facts,
    Heading,
    Paragraph,
    Report,
    Table,
    as_text,
)
from core.report.width import cut, fill, to_ascii, visible, width_of, wrapped

TEXTS = st.text(max_size=120)
LONG = "the pipe gave three tenths and " * 6


def reports() -> st.SearchStrategy[Report]:
    """Return reports with any text anywhere."""
    blocks = st.one_of(
        st.builds(Heading, TEXTS),
        st.builds(Paragraph, TEXTS),
        st.builds(Bullets, st.lists(TEXTS, max_size=3).map(tuple)),
        st.builds(Facts, st.lists(st.tuples(TEXTS, TEXTS), max_size=3).map(tuple)),
        st.builds(
            Table,
            st.just((Column("no", right=True), Column("note", flexible=True), Column("x"))),
            st.lists(st.tuples(st.just("7.26 s"), TEXTS, st.just("W")), max_size=3).map(tuple),
            wraps=st.booleans(),
        ),
    )
    return st.builds(Report, TEXTS, st.lists(blocks, max_size=4).map(tuple))


@given(reports(), st.booleans())
def test_any_text_fits_and_holds_no_control_codes(report: Report, ascii_only: bool) -> None:
    text = as_text(report, ascii_only=ascii_only)
    assert all(width_of(line) <= 80 for line in text.split("\n"))
    assert text.replace("\n", "") == visible(text.replace("\n", ""))
    assert text.isascii() or not ascii_only


@pytest.mark.parametrize("name", ["width", "words", "text"])
def test_worked_examples(name: str) -> None:
    assert doctest.testmod(importlib.import_module(f"core.report.{name}")).failed == 0


def test_a_page() -> None:
    report = Report(
        "S01: Kettle Moth",
        (
            Facts((("machine", "Kettle Moth"), ("question", LONG))),
            Heading("Attempts"),
            Table(
                (Column("no", right=True), Column("result", right=True), Column("", flexible=True)),
                (("1", "8.81 s", "first"), ("12", "10.33 s", LONG)),
            ),
            Bullets((LONG,)),
        ),
    )
    assert as_text(report, width=50).splitlines() == [
        "S01: Kettle Moth",
        "================",
        "",
        "machine   Kettle Moth",
        "question  the pipe gave three tenths and the pipe",
        "          gave three tenths and the pipe gave",
        "          three tenths and the pipe gave three",
        "          tenths and the pipe gave three tenths",
        "          and the pipe gave three tenths and",
        "",
        "Attempts",
        "--------",
        "",
        "no   result",
        "--  -------  -------------------------------------",
        " 1   8.81 s  first",
        "12  10.33 s  the pipe gave three tenths and the p…",
        "",
        "- the pipe gave three tenths and the pipe gave",
        "  three tenths and the pipe gave three tenths and",
        "  the pipe gave three tenths and the pipe gave",
        "  three tenths and the pipe gave three tenths and",
    ]


def test_wide_letters_are_counted_as_two() -> None:
    columns = (Column("name"), Column("x"))
    table = Table(columns, (("火の車", "1"), ("Moth", "2"), ("e\u0301a", "3")))
    lines = as_text(Report("", (table,))).splitlines()
    assert [width_of(line) for line in lines] == [9, 9, 9, 9, 9]


def test_running_text_keeps_its_indents() -> None:
    text = as_text(Report("", (Paragraph("head\n  - " + "word " * 20),)), width=40)
    assert text.splitlines()[1:3] == [
        "  - word word word word word word word",
        "    word word word word word word word",
    ]


@given(TEXTS, st.integers(0, 40))
def test_cutting_and_filling(text: str, width: int) -> None:
    assert width_of(cut(text, width)) <= width
    assert width_of(fill(cut(text, width), width)) == width


@given(TEXTS, st.integers(2, 40))
def test_wrapping_loses_no_word(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert all(width_of(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(
        visible(text.replace("\r\n", " ").replace("\n", " ")).split()
    )


@given(TEXTS)
def test_ascii_is_ascii(text: str) -> None:
    assert to_ascii(text).isascii()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[31mred\x1b[0m", "·[31mred·[0m"),
        ("a\r\nb\tc\x00", "a··b·c·"),
        ("\x9b31m", "·31m"),
        ("\u202eabc", "·abc"),
        ("plain", "plain"),
    ],
)
def test_control_codes_are_shown_and_not_sent(text: str, shown: str) -> None:
    assert visible(text) == shown
