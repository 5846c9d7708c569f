"""Large letters made of blocks, for what has to be read in the sun from two steps away."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Final, Literal

__all__ = ["BigStyle", "big_lines", "big_style", "can_be_big"]

BigStyle = Literal["half", "full", "ascii"]
"""``half``: three rows of half blocks; ``full``: five rows of full blocks; ``ascii``: no blocks."""

_PIXELS: Final[Mapping[str, str]] = {
    "0": "#### #..# #..# #..# ####",
    "1": ".##. ..#. ..#. ..#. .###",
    "2": "#### ...# #### #... ####",
    "3": "#### ...# .### ...# ####",
    "4": "#..# #..# #### ...# ...#",
    "5": "#### #... #### ...# ####",
    "6": "#### #... #### #..# ####",
    "7": "#### ...# ..#. ..#. ..#.",
    "8": "#### #..# #### #..# ####",
    "9": "#### #..# #### ...# ####",
    ".": ". . . . #",
    ":": ". # . # .",
    "-": "... ... ### ... ...",
    "'": "# # . . .",
    "?": "#### ...# .##. .... .#..",
    " ": ".. .. .. .. ..",
    "A": "#### #..# #### #..# #..#",
    "B": "###. #..# ###. #..# ###.",
    "C": "#### #... #... #... ####",
    "D": "###. #..# #..# #..# ###.",
    "E": "#### #... ###. #... ####",
    "F": "#### #... ###. #... #...",
    "G": "#### #... #.## #..# ####",
    "H": "#..# #..# #### #..# #..#",
    "I": "### .#. .#. .#. ###",
    "J": "...# ...# ...# #..# ####",
    "K": "#..# #.#. ##.. #.#. #..#",
    "L": "#... #... #... #... ####",
    "M": "#...# ##.## #.#.# #...# #...#",
    "N": "#..# ##.# #.## #..# #..#",
    "O": "#### #..# #..# #..# ####",
    "P": "#### #..# #### #... #...",
    "Q": "#### #..# #..# #.## ####",
    "R": "#### #..# ###. #.#. #..#",
    "S": "#### #... #### ...# ####",
    "T": "##### ..#.. ..#.. ..#.. ..#..",
    "U": "#..# #..# #..# #..# ####",
    "V": "#...# #...# .#.#. .#.#. ..#..",
    "W": "#...# #...# #.#.# ##.## #...#",
    "X": "#...# .#.#. ..#.. .#.#. #...#",
    "Y": "#...# .#.#. ..#.. ..#.. ..#..",
    "Z": "#### ..#. .#.. #... ####",
}

_ROWS: Final = 5
_HALVES: Final = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
_ASCII_INK: Final = "#"
_NO_BLOCKS: Final = ("vt52", "vt100", "vt102", "vt220", "ansi", "cons25")


def big_style(*, tall: bool = False, terminal: str | None = None) -> BigStyle:
    """Return how large text is drawn here.

    Args:
        tall: whether there is room for five rows.
        terminal: name of the terminal; None: that of the environment.
    """
    name = os.environ.get("TERM", "") if terminal is None else terminal
    if name.partition("-")[0].lower() in _NO_BLOCKS:
        return "ascii"
    return "full" if tall else "half"


def can_be_big(text: str) -> bool:
    """Tell whether there is a large letter for each character, whatever its case."""
    return bool(text) and all(c in _PIXELS for c in text.upper())


def big_lines(text: str, style: BigStyle = "half") -> tuple[str, ...]:
    """Return a text in large letters: three lines in half blocks, else five.

    Args:
        text: what `can_be_big` takes; letters are drawn as capitals.
        style: how it is drawn.

    >>> big_lines("7.2")[0]
    '▀▀▀█   ▀▀▀█'
    """
    rows = [_row(text.upper(), index) for index in range(_ROWS)]
    if style == "half":
        width = len(rows[0])
        pairs = ((0, 1), (2, 3), (4, None))
        return tuple(
            "".join(
                _HALVES[rows[top][x], bottom is not None and rows[bottom][x]] for x in range(width)
            )
            for top, bottom in pairs
        )
    ink, blank = ("██", "  ") if style == "full" else (_ASCII_INK, " ")
    return tuple("".join(ink if dot else blank for dot in row) for row in rows)


def _row(text: str, index: int) -> tuple[bool, ...]:
    """Return one row of dots, with a blank column between letters."""
    dots: list[bool] = []
    for number, character in enumerate(text):
        if number:
            dots.append(False)
        dots += [dot == "#" for dot in _PIXELS[character].split(" ")[index]]
    return tuple(dots)
