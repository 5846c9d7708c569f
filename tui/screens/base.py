"""What all full screens share: title on top, what was said last and the keys below."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual.app import ComposeResult
from textual.screen import Screen

from tui.dialogs import asking
from tui.widgets.lines import KeyLine, StatusLine, TitleLine
from tui.widgets.record_list import RecordList

if TYPE_CHECKING:
    from tui.app import BackToBackApp

__all__ = ["HouseScreen"]

R = TypeVar("R")


class HouseScreen(Screen[R]):
    """A full screen of the app.

    A screen names its ``SCENE`` (a row of ``tui.commands.SCENES``), takes its ``BINDINGS`` from
    ``bindings_for(group)`` and yields its widgets in ``compose_body``.
    """

    SCENE: ClassVar[str] = ""
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 - the base class declares it so
        (0, "-narrow"),
        (60, "-usual"),
        (132, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012 - the base class declares it so
        (0, "-short"),
        (18, "-tall"),
        (34, "-high"),
    ]

    @property
    def scene(self) -> str:
        """The scene that is open now; a screen with several parts has one for each."""
        return self.SCENE

    @property
    def house(self) -> BackToBackApp:
        """The app, with its book, preferences and clock."""
        return cast("BackToBackApp", self.app)

    def compose(self) -> ComposeResult:
        """Put title, body, status and keys under each other."""
        self._take_size()
        yield TitleLine()
        yield from self.compose_body()
        yield StatusLine()
        yield KeyLine()

    def _take_size(self) -> None:
        """Set the classes of the present size before anything is styled, not once more after."""
        width, height = self.app.size
        for size, steps in (
            (width, self.HORIZONTAL_BREAKPOINTS),
            (height, self.VERTICAL_BREAKPOINTS),
        ):
            reached = [name for least, name in sorted(steps or ()) if size >= least]
            if reached:
                self.add_class(reached[-1], update=False)

    def compose_body(self) -> ComposeResult:
        """Yield what is between the title and the status line."""
        yield from ()

    def entitle(self, left: str, right: str = "") -> None:
        """Set the title line: what this is, and what it is about."""
        self.query_one(TitleLine).say(left, right)

    @property
    def machine_here(self) -> str:
        """Id of the machine of the record under the cursor; empty: there is none."""
        lists = self.query(RecordList)
        head = getattr(lists.first().current, "head", None) if lists else None
        return str(getattr(head, "machine", ""))

    @asking
    async def action_bench(self) -> None:
        """Go to the bench, with the machine under the cursor."""
        from tui.screens.opening import open_bench  # lazy: needs the log to be read

        await open_bench(self.house, self.machine_here)

    @asking
    async def action_what_if(self) -> None:
        """Change slots of that machine on paper."""
        from tui.screens.opening import open_what_if  # lazy: needs the log to be read

        await open_what_if(self.house, self.machine_here)

    def say(self, text: str) -> None:
        """Say one thing in the status line; empty goes back to the usual one."""
        self.query_one(StatusLine).say(text)

    def usually_say(self, text: str) -> None:
        """Set what the status line says whenever there is nothing newer."""
        self.query_one(StatusLine).usually(text)
