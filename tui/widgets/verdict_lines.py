"""The answer in large calm letters, with its sign and its sentence."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from core.attempts import Test
from core.stats import Verdict
from core.verdict import Comparison, verdict_words
from tui.widgets.big_text import BigStyle, big_lines, big_style, can_be_big
from tui.widgets.page_layout import hanging, line_width, text_lines
from tui.widgets.picture_plot import Line
from tui.widgets.picture_signs import Signs

__all__ = ["further_lines", "sign_of", "verdict_lines"]

_LARGE: Final = {Verdict.NO_DIFFERENCE: "no difference"}
_WIDEST: Final = 76  # cells of a line of the sentence; longer ones are hard to read
_LEAST_HEIGHT: Final = 16  # lines of the view below which large letters take too much
_AIRY: Final = 30  # lines of the view from which there is a blank line below them


def sign_of(made: Comparison, signs: Signs) -> str:
    """Return the sign of the answer: where it lies in the picture, ``=`` or ``?``."""
    if made.verdict is Verdict.CANT_TELL or made.difference is None:
        return "?"
    if made.verdict is Verdict.NO_DIFFERENCE:
        return "="
    return signs.left if made.difference.value < 0 else signs.right


def verdict_lines(
    made: Comparison, test: Test, width: int, height: int, signs: Signs
) -> list[Line]:
    """Return the answer: large where there is room, then its sign and sentence.

    Args:
        made: the comparison.
        test: what was run.
        width: cells.
        height: lines of the view it is shown in.
        signs: what to draw with.
    """
    sentence = text_lines(made.sentence, min(width - 2, _WIDEST), "strong")
    above: list[Line] = [()] if height >= _LEAST_HEIGHT else []
    if made.difference is None:
        return [*above, *sentence]
    sign: Line = ((f"{sign_of(made, signs)} ", "mark"),)
    lines = [
        (*(sign if index == 0 else (("  ", "plain"),)), *line)
        for index, line in enumerate(sentence)
    ]
    word = _word(made.verdict, test, width, height)
    between: list[Line] = [()] if height >= _AIRY else []
    return [*above, *word, *between, *lines]


def further_lines(made: Comparison, width: int, signs: Signs) -> Iterator[Line]:
    """Yield the further sentences; what holds the answer back is marked."""
    for index, sentence in enumerate(made.more):
        holds_back = index < len(made.caps) and made.caps[index].holds_back
        head: Line = ((f"{signs.holds_back} ", "warn"),) if holds_back else (("- ", "quiet"),)
        yield from hanging(head, sentence, width)


def _word(verdict: Verdict, test: Test, width: int, height: int) -> list[Line]:
    """Return the word in large letters, or in spaced capitals where there is no room."""
    word = _LARGE.get(verdict, verdict_words(verdict, test))
    tone = "mark" if verdict in (Verdict.QUICKER, Verdict.SLOWER) else "strong"
    style: BigStyle = big_style()
    if style != "ascii" and height >= _LEAST_HEIGHT and can_be_big(word):
        lines: list[Line] = [((row, tone),) for row in big_lines(word, style)]
        if line_width(lines[0]) <= width:
            return lines
    return [((str(verdict).upper() if verdict in _LARGE else word.upper(), tone),)]
