"""Which screen shows what; each is loaded when it is first asked for, not before first paint."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType
from typing import Any, Final, cast

from textual.screen import Screen

__all__ = ["ROUTES", "load_all", "make_screen"]

ROUTES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "session": "tui.screens.session:SessionScreen",  # (session_id)
        "review": "tui.screens.review:ReviewScreen",  # (session_id)
        "compare": "tui.screens.compare:CompareScreen",  # (older_id, newer_id)
        "curves": "tui.screens.curves:CurvesScreen",  # (subject, sheet, label)
        "what-if": "tui.screens.what_if:WhatIfScreen",  # (subject)
        "bench": "tui.screens.bench:BenchScreen",  # (subject_id, rule)
        "laid": "tui.screens.compare.laid:LaidScreen",  # (first_id, other_id, ...)
        "why": "tui.screens.why:WhyScreen",  # (sheet, rpm_factory, past, at, words)
        "trace": "tui.screens.trace:TraceScreen",  # (desk, opening)
        "effects": "tui.screens.effects:EffectsScreen",  # (machine_id, test)
        "next": "tui.screens.next:NextScreen",  # (machine_id, test)
        "ask": "tui.screens.ask:AskScreen",  # (machine_id)
        "answer": "tui.screens.ask:AnswerScreen",  # (machine_id, number, words)
        "season": "tui.screens.ask:SeasonScreen",  # (machine_id)
        "shelf": "tui.screens.shelf:ShelfScreen",  # (machine_id)
        "card": "tui.screens.shelf:CardScreen",  # (what, about)
        "merge": "tui.screens.merge:MergeScreen",  # (other)
        "help": "tui.screens.help:HelpScreen",  # (scene, own_keys)
        "units": "tui.screens.first_run:UnitsScreen",  # (units)
        "caution": "tui.screens.first_run:CautionScreen",  # ()
    }
)
"""By the name of a route: the module and the class, which takes what stands in the comment."""


_HEAVY: Final = ("numpy", "scipy.stats", "pint")  # 0.8 s together


def load_all() -> None:
    """Load what the other screens need, in a thread while the user reads the list."""
    for module in (*(target.partition(":")[0] for target in ROUTES.values()), *_HEAVY):
        with contextlib.suppress(ImportError):  # raised again when a screen needs it
            import_module(module)


def make_screen(route: str, *arguments: object) -> Screen[Any]:
    """Return a new screen.

    Args:
        route: a name of the table.
        arguments: what its class takes.
    """
    module, _, name = ROUTES[route].partition(":")
    return cast("Screen[Any]", getattr(import_module(module), name)(*arguments))
