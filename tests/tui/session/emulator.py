"""A screen for what the app writes to a terminal: cursor moves and text, colours left out."""

from __future__ import annotations

import codecs
import re

from rich.cells import get_character_cell_size

__all__ = ["Emulator"]

_SEQUENCE = re.compile(
    r"\x1b\[([0-9;?<>=!]*)[ -/]*([@-~])"  # CSI
    r"|\x1b[\]P_^X][^\x07\x1b]*(?:\x07|\x1b\\)"  # strings, such as a title
    r"|\x1b[ -/]*[0-Z\\^-~]"  # short ones
    r"|[^\x1b]"
)
_UNFINISHED = re.compile(r"\x1b(?:\[[0-9;?<>=! -/]*|[\]P_^X][^\x07\x1b]*\x1b?)?$")


class Emulator:
    """Keeps what stands where; knows as much of terminals as the app makes use of.

    Args:
        columns: width in cells.
        rows: height in lines.
    """

    def __init__(self, columns: int = 80, rows: int = 24) -> None:
        self.columns, self.rows = columns, rows
        self._cells = [[" "] * columns for _ in range(rows)]
        self._x = self._y = 0
        self._decoder = codecs.getincrementaldecoder("utf-8")("replace")
        self._rest = ""

    @property
    def lines(self) -> list[str]:
        """The lines without trailing blanks."""
        return ["".join(row).rstrip() for row in self._cells]

    @property
    def text(self) -> str:
        """The whole screen."""
        return "\n".join(self.lines)

    @property
    def flat(self) -> str:
        """The whole screen on one line, with single blanks."""
        return " ".join(self.text.split())

    def feed(self, data: bytes) -> None:
        """Take what was written; a sequence that is cut in two waits for its rest."""
        text = self._rest + self._decoder.decode(data)
        unfinished = _UNFINISHED.search(text)
        self._rest = text[unfinished.start() :] if unfinished else ""
        for match in _SEQUENCE.finditer(text[: len(text) - len(self._rest)]):
            if match[2]:
                self._control(match[1], match[2])
            elif match[0][0] != "\x1b":
                self._put(match[0])

    def _control(self, arguments: str, final: str) -> None:
        numbers = [int(n) if n.isdigit() else 0 for n in arguments.split(";")]
        first = numbers[0]
        if final in "Hf":
            self._y = min(max(first, 1), self.rows) - 1
            self._x = min(max(numbers[1] if len(numbers) > 1 else 1, 1), self.columns) - 1
        elif final == "J" and first == 2:
            self._cells = [[" "] * self.columns for _ in range(self.rows)]
        elif final == "K" and first == 0:
            self._cells[self._y][self._x :] = [" "] * (self.columns - self._x)
        elif final in "ABCD":
            step = max(first, 1) * (-1 if final in "AD" else 1)
            if final in "AB":
                self._y = min(max(self._y + step, 0), self.rows - 1)
            else:
                self._x = min(max(self._x + step, 0), self.columns - 1)

    def _put(self, character: str) -> None:
        if character == "\r":
            self._x = 0
        elif character == "\n":
            self._x, self._y = 0, min(self._y + 1, self.rows - 1)
        elif character >= " " and self._x < self.columns:
            width = get_character_cell_size(character)
            self._cells[self._y][self._x] = character
            if width > 1 and self._x + 1 < self.columns:
                self._cells[self._y][self._x + 1] = ""
            self._x += max(width, 1)
