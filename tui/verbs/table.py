"""Every verb with its words and arguments; what it does is loaded only when it is asked for."""

from __future__ import annotations

import importlib
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

from tui.output import Result
from tui.verbs import log_arguments as giving

__all__ = ["FILE_ARGUMENTS", "VERBS", "Verb"]

FILE_ARGUMENTS = ("files", "file")
"""Names of arguments that are files, for completion."""

_SESSION = "label or id of a session, or any head of one that fits only it; S05:B is its build B"


@dataclass(frozen=True)
class Verb:
    """One command."""

    name: str
    words: str  # one line of help
    arguments: Callable[[ArgumentParser], None]
    module: str  # has ``run(arguments) -> Result``
    has_json: bool = True

    def run(self, arguments: Namespace) -> Result:
        """Do it and return what there is to print.

        Raises:
            BackToBackError: it cannot be done; the sentence says why.
        """
        run = cast(Callable[[Namespace], Result], importlib.import_module(self.module).run)
        return run(arguments)


def _demo(parser: ArgumentParser) -> None:
    parser.add_argument("--text", action="store_true", help="print the season, open no app")


def _list(parser: ArgumentParser) -> None:
    words = "only sessions that hold every word: a name, a test, a date, a state, a tag"
    parser.add_argument("words", nargs="*", metavar="WORDS", help=words)


def _session(parser: ArgumentParser) -> None:
    parser.add_argument("session", metavar="SESSION", help=_SESSION)


def _two(parser: ArgumentParser) -> None:
    parser.add_argument("a", metavar="A", help=f"before: {_SESSION}")
    parser.add_argument("b", metavar="B", help="after: the same")


def _compare(parser: ArgumentParser) -> None:
    _two(parser)
    parser.add_argument(
        "more", nargs="*", default=[], metavar="MORE", help="further ones, all against A"
    )
    parser.add_argument("--test", default="", help="test to compare, where both ran several")
    gain = "smallest gain worth having, in the unit of the test"
    parser.add_argument("--gain", default="", help=gain)


def _before(parser: ArgumentParser) -> None:
    parser.add_argument("session", metavar="SESSION", help="label, id, or the head of an id")
    parser.add_argument("--gain", default="", help="smallest gain worth having, in the test's unit")
    slots = "slot that will be changed; may be given again"
    parser.add_argument("--changed", action="append", default=[], metavar="SLOT", help=slots)


def _import(parser: ArgumentParser) -> None:
    files = "CSV of attempts, or a whole log as JSON lines; - is standard input"
    parser.add_argument("files", nargs="+", metavar="FILE", help=files)
    parser.add_argument("--check-only", action="store_true", help="say what would go in, no more")


def _export(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file", nargs="?", metavar="FILE", help="where to; left out: standard output"
    )
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--lines", action="store_true", help="the whole log, one document per line")
    form.add_argument("--csv", action="store_true", help="the attempts, one row each (the usual)")
    words = "attempts and blocks as Parquet files in the folder FILE, for many logs at once"
    form.add_argument("--parquet", action="store_true", help=words)


def _reckon(parser: ArgumentParser) -> None:
    parser.add_argument("name", nargs="?", metavar="NAME", help="a formula; left out: list all")
    values = (
        "its inputs, with or without unit or range: bore=70 lash=4thou chamber=22.5+-0.2 "
        "deck=0.2..0.3 gasket=? table=FILE"
    )
    parser.add_argument("values", nargs="*", metavar="KEY=VALUE", help=values)
    words = "give plain numbers no usual doubt of the instrument they are read with"
    parser.add_argument("--exact", action="store_true", help=words)
    words = "take inputs that are not given from this session's setup sheet"
    parser.add_argument("--sheet", default="", metavar="SESSION", help=words)


def _read(parser: ArgumentParser) -> None:
    files = "recordings: NMEA 0183 sentences, GPX tracks, CSV"
    parser.add_argument("files", nargs="+", metavar="FILE", help=files)
    add = parser.add_argument
    add("--test", default="", help="find the runs of this test: 0-50, 40-65, 80m, top, coast-40-15")
    add("--start", default="", help="clock of a standing start: motion, rest, or a rollout, 1ft")
    add("--place", default="", help="name runs by the directions of this place in the log")
    add("--directions", default="", help="the same typed: W,E or out=250,back=70")
    add("--session", default="", help="hold the runs against the attempts of this session")
    add("--shift", default="", help="seconds to add to the clock of the recording")
    add("--columns", default="", help="of a CSV: time=NAME,speed=NAME:km/h,lat=NAME,lon=NAME")
    add("--keep", action="store_true", help="keep the file beside the log, its columns as well")
    add("--mass", default="", help="of machine and rider, for drag from coast-downs: 141kg")
    add("--air-density", default="", help="the same: 1.2 (kg/m³)")


def _machine_and_test(parser: ArgumentParser) -> None:
    machine = "name or id; left out: that of the newest session; all: every machine together"
    parser.add_argument("machine", nargs="?", default="", metavar="MACHINE", help=machine)
    test = "such as 0-50; left out: the one it ran most"
    parser.add_argument("test", nargs="?", default="", metavar="TEST", help=test)


def _effects(parser: ArgumentParser) -> None:
    _machine_and_test(parser)
    words = "allow for nothing: neither air nor the rider's weight"
    parser.add_argument("--raw", action="store_true", help=words)


def _club(parser: ArgumentParser) -> None:
    parser.add_argument("test", metavar="TEST", help="such as 0-50")
    files = "blocks.parquet of each log, or folders that hold them; see export --parquet"
    parser.add_argument("files", nargs="+", metavar="FILE", help=files)


def _next(parser: ArgumentParser) -> None:
    _machine_and_test(parser)
    about = "any name of a slot whose answer is wanted; left out: everything that is open"
    parser.add_argument("--about", default="", metavar="SLOT", help=about)


def _names(parser: ArgumentParser) -> None:
    words = "a machine or place by name; left out: list them all"
    parser.add_argument("words", nargs="*", metavar="NAME", help=words)
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--rename", metavar="NEW", help="call it so; the old name still finds it")
    what.add_argument("--also", metavar="OTHER", help="let this name find it as well")
    what.add_argument("--archive", action="store_true", help="put a machine away; sessions stay")
    what.add_argument("--back", action="store_true", help="take a machine back that was put away")


def _none(parser: ArgumentParser) -> None:
    """Take no arguments of its own."""


VERBS: tuple[Verb, ...] = (
    Verb("demo", "open the app on a season to try things with", _demo, "tui.verbs.demo", False),
    Verb("list", "list the sessions, newest first", _list, "tui.verbs.list"),
    Verb("show", "show a session: verdict, changes, attempts", _session, "tui.verbs.show"),
    Verb("changes", "say what differs between two setup sheets", _two, "tui.verbs.changes"),
    Verb("compare", "compare two sessions or builds, B against A", _compare, "tui.verbs.compare"),
    Verb("before", "plan the day: order, pairs, minutes, and what the test cannot see", _before,
         "tui.verbs.before"),
    Verb("effects", "say what each part did, over all sessions of a test", _effects,
         "tui.verbs.effects"),
    Verb("club", "say what each part did over the exports of many logs", _club, "tui.verbs.club"),
    Verb("next", "say which swap would tell most, with a ready plan", _next, "tui.verbs.next"),
    Verb("sheet", "print a session with everything, to keep on paper", _session, "tui.verbs.sheet",
         False),
    Verb("ask", "ask the log one of its twenty questions, or look for words", giving.ask,
         "tui.verbs.ask"),
    Verb("season", "show a machine's results on a test over time", giving.season,
         "tui.verbs.season"),
    Verb("shelf", "show parts, what they have done and what is due; change one", giving.shelf,
         "tui.verbs.shelf"),
    Verb("names", "list machines and places; rename one, put a machine away", _names,
         "tui.verbs.names"),
    Verb("report", "write a page to keep or post: text, Markdown, HTML, CSV", giving.report,
         "tui.verbs.report", False),
    Verb("import", "read files into the log", _import, "tui.verbs.import_"),
    Verb("merge", "bring another log, or conflict copies, into this one", giving.merge,
         "tui.verbs.merge"),
    Verb("export", "write the log to a file", _export, "tui.verbs.export", False),
    Verb("reckon", "work out a formula of the bench, or list them all", _reckon,
         "tui.verbs.reckon"),
    Verb("read", "read recordings and find the runs in them", _read, "tui.verbs.read"),
    Verb("health", "read every document and say what is wrong", _none, "tui.verbs.health"),
)  # fmt: skip
