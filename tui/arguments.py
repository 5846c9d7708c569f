"""The words of the command line: options that stand before or after the verb, and its arguments."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from core.errors import UsageError
from tui.verbs.opening import VARIABLE
from tui.verbs.table import FILE_ARGUMENTS, VERBS, Verb

__all__ = ["build_parser", "parsed", "version_words"]

_PROGRAM = "backtoback"
_WORDS = (
    "Test-day log and bench book for small four-stroke singles in minibikes and karts. "
    "Without a command the app opens."
)
_SHELLS = ("bash", "zsh", "tcsh")
_INVALID_CHOICE = re.compile(r"argument (?:COMMAND|verb): invalid choice: '(.*?)'", re.DOTALL)


class _Parser(argparse.ArgumentParser):
    """A parser that refuses with one sentence."""

    def error(self, message: str) -> NoReturn:
        """Refuse the words.

        Raises:
            UsageError: always.
        """
        unknown = _INVALID_CHOICE.match(message)
        if unknown:
            names = ", ".join(verb.name for verb in VERBS)
            raise UsageError(f"There is no command “{unknown[1]}”.", f"One of: {names}.")
        raise UsageError(f"{message[:1].upper()}{message[1:]}.", f"See {self.prog} --help.")


class _PrintVersion(argparse.Action):
    """Prints name and version, and ends."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        option_string: str | None = None,
    ) -> None:
        """Print them."""
        parser._print_message(f"{version_words()}\n", sys.stdout)
        parser.exit(0)


class _PrintCompletion(argparse.Action):
    """Prints what a shell needs to complete the command, and ends."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        option_string: str | None = None,
    ) -> None:
        """Print the completion for the shell named."""
        import shtab  # lazy: 20 ms

        for action in _all_actions(parser):
            if action.dest in FILE_ARGUMENTS:
                action.complete = shtab.FILE  # type: ignore[attr-defined]  # read by shtab
            elif action.dest == "log":
                action.complete = shtab.DIRECTORY  # type: ignore[attr-defined]
        parser._print_message(shtab.complete(parser, values) + "\n", sys.stdout)
        parser.exit(0)


def _all_actions(parser: argparse.ArgumentParser) -> list[argparse.Action]:
    found: list[argparse.Action] = []
    for action in parser._actions:
        found.append(action)
        if isinstance(action, argparse._SubParsersAction):
            for other in action.choices.values():
                found += _all_actions(other)
    return found


def version_words() -> str:
    """Return name and version; without a version when it runs from its source."""
    from importlib.metadata import PackageNotFoundError, version  # lazy: 60 ms

    try:
        return f"{_PROGRAM} {version(_PROGRAM)}"
    except PackageNotFoundError:
        return f"{_PROGRAM} (not installed)"


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    parser = _Parser(prog=_PROGRAM, description=_WORDS, allow_abbrev=False)
    parser.add_argument(
        "--version", action=_PrintVersion, nargs=0, help="print name and version, and end"
    )
    parser.add_argument(
        "--print-completion",
        action=_PrintCompletion,
        choices=_SHELLS,
        metavar="SHELL",
        help="print the completion script for bash, zsh or tcsh",
    )
    _shared(parser, log=None, json=False)
    verbs = parser.add_subparsers(dest="verb", metavar="COMMAND", title="commands")
    for verb in VERBS:
        sub = verbs.add_parser(verb.name, help=verb.words, description=_sentence(verb.words),
                               allow_abbrev=False)  # fmt: skip
        verb.arguments(sub)
        _shared(sub, log=argparse.SUPPRESS, json=argparse.SUPPRESS)
    return parser


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."


def _shared(parser: argparse.ArgumentParser, *, log: Any, json: Any) -> None:
    """Add the options that may stand before or after the verb."""
    words = f"log folder (else {VARIABLE}, else the user's own)"
    parser.add_argument("--log", metavar="FOLDER", default=log, help=words)
    parser.add_argument(
        "--json", action="store_true", default=json, help="print plain data for scripts"
    )


def parsed(argv: Sequence[str]) -> tuple[argparse.Namespace, Verb | None]:
    """Return the words taken apart and the verb; None when the app is asked for.

    Raises:
        UsageError: the words do not fit.
        SystemExit: help, version or completion was printed.
    """
    arguments = build_parser().parse_args(list(argv))
    verb = next((v for v in VERBS if v.name == arguments.verb), None)
    if arguments.json and (verb is None or not verb.has_json):
        what = f"“{verb.name}” has" if verb else "The app has"
        names = ", ".join(verb.name for verb in VERBS if verb.has_json)
        raise UsageError(f"{what} no --json.", f"These have: {names}.")
    return arguments, verb
