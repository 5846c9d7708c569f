"""Arguments of the verbs by which the log gives back: ask, season, report, shelf, merge."""

from __future__ import annotations

from argparse import ArgumentParser

__all__ = ["ask", "merge", "report", "season", "shelf"]


def ask(parser: ArgumentParser) -> None:
    """Take a number and what it is about, or words to look for."""
    words = "number of a question and what it is about: 5 clutch; else words to look for everywhere"
    parser.add_argument("words", nargs="*", metavar="NUMBER|WORDS", help=words)


def season(parser: ArgumentParser) -> None:
    """Take a machine and a test."""
    words = "a machine and a test, either may be left out: moth 0-50"
    parser.add_argument("words", nargs="*", metavar="WORDS", help=words)


def report(parser: ArgumentParser) -> None:
    """Take a kind of report, what it is about, and the form."""
    add = parser.add_argument
    add("kind", nargs="?", default="", metavar="KIND", help="which report; left out: list them all")
    add("words", nargs="*", metavar="WORDS", help="what it is about: S05, or S03 S05:A, or a part")
    add("--as", dest="form", default="", metavar="FORM",
        help="text, md, html or csv; left out: as the file is called, else text")  # fmt: skip
    add("--out", default="", metavar="FILE", help="write it to this file")
    add("--hide", action="store_true",
        help="leave out rider, helper, place, coordinates and phone numbers")  # fmt: skip


def shelf(parser: ArgumentParser) -> None:
    """Take a part and what happened to it."""
    add = parser.add_argument
    add("words", nargs="*", metavar="PART", help="a part; left out: list the whole shelf")
    does = parser.add_mutually_exclusive_group()
    act = does.add_argument
    act("--new", default="", metavar="SLOT", help="a new part of this slot")
    act("--rename", default="", metavar="NAME", help="give it another name; old sheets keep theirs")
    act("--retire", default="", metavar="WHY", help="it may not be fitted again")
    act("--want", action="store_true", help="it is wished for")
    act("--order", action="store_true", help="it was ordered")
    act("--came", action="store_true", help="it is here: it came, or came off its machine")
    act("--move", default="", metavar="MACHINE", help="it is on this machine now")
    act("--link", default="", metavar="FILE", help="link a photo or file to it")
    act("--same-as", default="", metavar="PART", help="it turned out to be this other part")
    act("--split", default="", metavar="NAME", help="part of its history was another part")
    act("--due", action="store_true", help="what is worn or due on a machine")
    words = "set an interval: oil=8h,365d or lash=40attempts; oil= puts the usual back"
    act("--interval", default="", metavar="ID=FIGURES", help=words)
    act("--shopping", default="", metavar="SLOTS", help="what a change of these slots needs")
    add("--machine", default="", help="with --split: what ran on this machine was the other one")
    add("--since", default="", metavar="DAY", help="with --split: from this day on, 2026-06-02")


def merge(parser: ArgumentParser) -> None:
    """Take another log and the decisions."""
    add = parser.add_argument
    other = "log folder or JSON lines; left out: conflict copies in the log itself"
    add("other", nargs="?", default="", metavar="OTHER", help=other)
    add("--check-only", action="store_true", help="say what would go in, no more")
    for word, means in (
        ("here", "in this conflict the version of this log stays"),
        ("there", "in this conflict take the other version, or fields of it: ID:status,machine"),
        ("both", "keep both, as two sessions"),
    ):
        add(f"--{word}", action="append", default=[], metavar="ID", help=means)
