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
        """Draw the line; notes of the other stages go first when there is no room, then blanks."""
        width = self.content_size.width
        every, own, none = range(len(self._stages)), (self._here,), ()
        for noted, pad in ((every, 2), (own, 2), (none, 2), (none, 1)):
            parts = [self._part(i, i in noted, pad) for i in range(len(self._stages))]
            if sum(part.cell_length for part in parts) <= width:
                break
        return Content.assemble(*parts).truncate(width) if self._stages else Content("")

    def _part(self, index: int, noted: bool, pad: int) -> Content:
        name, words = self._stages[index]
        here = index == self._here
        label = f"{'▸' if here else ' '}{name} ".rjust(len(name) + pad + 1)
        style = self.get_visual_style("stage-line--here") if here else ""
        content = Content.styled(label if pad > 1 else label.rstrip(), style)
        if noted and words:
            quiet = self.get_visual_style("stage-line--note")
            content += Content.styled(f"{cut(plain(words), 24)} ", quiet)
        return content
