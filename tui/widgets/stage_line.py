"""The four stages of a session on one line, with how far each is and where one stands."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.content import Content
from textual.widget import Widget

from tui.text import cut, plain

__all__ = ["StageLine"]


class StageLine(Widget):
    """Names of stages with a note each; the present one is marked by signs and stands out."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"stage-line--here", "stage-line--note"}

    def __init__(self) -> None:
        super().__init__()
        self._stages: tuple[tuple[str, str], ...] = ()
        self._here = 0

    def show(self, stages: Sequence[tuple[str, str]], here: int) -> None:
        """Show these stages.

        Args:
            stages: name and note of each.
            here: index of the present one.
        """
        if (tuple(stages), here) != (self._stages, self._here):
            self._stages, self._here = tuple(stages), here
            self.refresh()

    def render(self) -> Content:
        """Draw the line; notes of the other stages go first when there is no room."""
        width = self.content_size.width
        for keep in (lambda _: True, lambda i: i == self._here, lambda _: False):
            parts = [self._part(i, note=keep(i)) for i in range(len(self._stages))]
            if sum(part.cell_length for part in parts) <= width:
                break
        return Content.assemble(*parts).truncate(width) if parts else Content("")

    def _part(self, index: int, *, note: bool) -> Content:
        name, words = self._stages[index]
        here = index == self._here
        label = f" ▸{name} " if here else f"  {name} "
        style = self.get_visual_style("stage-line--here") if here else ""
        content = Content.styled(label, style)
        if note and words:
            quiet = self.get_visual_style("stage-line--note")
            content += Content.styled(f"{cut(plain(words), 24)} ", quiet)
        return content
