"""The log is asked: the list of questions, an answer, and the season."""

from tui.screens.ask.answers import AnswerScreen, SeasonScreen
from tui.screens.ask.questions import AskScreen

__all__ = ["AnswerScreen", "AskScreen", "SeasonScreen"]
