"""What the log answers months later: the twenty questions, search, and the season over time."""

from core.ask.asker import Asker
from core.ask.documents import Answer, Question
from core.ask.score import Score, ScoreRow, score_of
from core.ask.search import Hit, search
from core.ask.season import (
    Season,
    SeasonPoint,
    Steadiness,
    season_of,
    steadiness_of,
    tests_run,
)
from core.ask.steps import Step, steps_of
from core.ask.table import QUESTIONS, ask, question_numbered

__all__ = [
    "QUESTIONS",
    "Answer",
    "Asker",
    "Hit",
    "Question",
    "Score",
    "ScoreRow",
    "Season",
    "SeasonPoint",
    "Steadiness",
    "Step",
    "ask",
    "question_numbered",
    "score_of",
    "search",
    "season_of",
    "steadiness_of",
    "steps_of",
    "tests_run",
]
