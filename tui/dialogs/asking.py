"""Turns a command that asks questions into an action: it waits for answers without blocking."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from textual.dom import DOMNode
from textual.worker import WorkerState

from core.errors import BackToBackError
from tui.dialogs.message import show_error

__all__ = ["asking"]

S = TypeVar("S", bound=DOMNode)
P = ParamSpec("P")

_GROUP = "asking"


def asking(
    action: Callable[Concatenate[S, P], Coroutine[Any, Any, None]],
) -> Callable[Concatenate[S, P], None]:
    """Decorate an ``async`` action that awaits dialogs.

    It runs as a worker named after it; a second key press while it runs is ignored. A refusal of
    the core (`BackToBackError`) ends it and is shown with title, sentence and hint.
    """

    @wraps(action)
    def start(self: S, /, *args: P.args, **kwargs: P.kwargs) -> None:
        running = (WorkerState.PENDING, WorkerState.RUNNING)
        if any(w.node is self and w.group == _GROUP and w.state in running for w in self.workers):
            return
        work = _told(self, action(self, *args, **kwargs))
        self.run_worker(work, name=action.__name__, group=_GROUP)

    return start


async def _told(node: DOMNode, work: Coroutine[Any, Any, None]) -> None:
    try:
        await work
    except BackToBackError as error:
        await show_error(node.app, error)
