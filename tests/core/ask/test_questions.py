"""The twenty questions on the invented season, each with the answer that its visits give."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.ask import QUESTIONS, Answer, ask
from core.errors import NotFoundError
from core.session import Book

ON_IT = {  # number, words typed: what the sentence says
    (1, "moth 7.2"): "S03 on 3 May 2026 averaged 7.20 s over 4 pairs (0-50, Vennimoor strip).",
    (1, "moth 7.34"): "S03 on 3 May 2026 had such an attempt, and averaged 7.20 s",
    (1, "moth"): "S03 on 3 May 2026 at its best mean 7.20 s",
    (1, "moth 6.00"): "is the nearest to 6.00 and averaged",
    (2, "moth"): "Main jet 75 x100mm: on at 14 to 19 °C, last in S10 on 6 Sep 2026.",
    (2, "moth 10"): "It never ran at 10 °C or below; the coldest was 14 °C.",
    (2, "badger"): "No main jet is on the sheet of S02",
    (3, "moth"): "Last on 23 Aug 2026 (S09), at 9 engine hours, cold: 0.1 / 0.15 mm; 16 attempts",
    (3, "badger"): "No lash check of Low Badger is in the log.",
    (4, "63-tooth sprocket"): "63T is on Kettle Moth since 6 Sep 2026; last ran in S10",
    (4, "thistle"): "Thistle 1.25 is on Kettle Moth since",
    (4, "unicorn"): "No part “unicorn” is in the log.",
    (5, "clutch"): "The clutch was never changed on its own: each time with final sprocket.",
    (5, "rockers"): "On its own 2 times; the last: S09:B is 0.13 s slower than S09:A",
    (5, "sprocket"): "On its own 2 times; the last: Can't tell yet: 0.27 s slower",
    (5, "exhaust"): "Nothing called exhaust was changed between two builds that both ran.",
    (6, "rockers"): "Thistle 1.25: 4 sessions on Kettle Moth.",
    (6, "stock 1.0"): "Stock 1.0: 5 sessions on Kettle Moth.",
    (7, "rod moth"): "forged rod: 80 attempts in 7 sessions, up to 5,621 rpm by gearing, without "
    "slip; the limit on its sheet is 6,500; 4.4 engine hours in this log, 1 session not read.",
    (8, ""): "chain came off (came off at 60 m) (S07), after throttle return springs: 1 spring",
    (9, "moth"): "Kettle Moth, 0-50: 0.12 s in the first 3 and 0.08 s in the last 4 results",
    (10, "moth"): "S03, S04 and S05:A: 3 days, 0.53 s between the lowest and the highest mean",
    (11, ""): "Never tested alone: clutch engagement, always with final sprocket.",
    (12, ""): "5 predicted: the sign was right in",
    (13, "july"): "Attempt 7 of S07 on 19 Jul 2026: chain came off, came off at 60 m; coded before",
    (13, "4 july"): "Attempt 4 was not struck there; struck were S07 attempt 7.",
    (13, "may"): "No attempt was struck there.",
    (14, "moth"): "was never milled in this log; the last clay was 3.9 / 3.4 mm",
    (15, "moth"): "Engine oil: not due, 4.4 of 10 hours",
    (16, ""): "3 rest on fewer than 4: S02, S04 and S05:B.",
    (16, "3"): "No result rests on fewer than 3.",
    (17, ""): "Low Badger differ in",
    (18, "s05"): "S05 on 5 Jul 2026: rider R1, 78.0 kg in gear, 141 kg with the machine; helper H1",
    (19, "s06"): "not done or open: two throttle return springs and brake holds against a push. "
    "Stopped: brake pedal reaches its stop",
    (20, ""): "Gone back on: S03 (final sprocket 63T in S10) and S05 (final sprocket 63T in S10).",
}


def test_there_are_twenty_in_their_order() -> None:
    assert [q.number for q in QUESTIONS] == list(range(1, 21))
    assert {number for number, _ in ON_IT} == set(range(1, 21))


@pytest.mark.parametrize(("number", "words"), ON_IT)
def test_the_answer_on_the_season(asked_season: Book, number: int, words: str) -> None:
    answer = ask(asked_season, number, words)
    assert ON_IT[number, words] in answer.sentence
    assert all(len(row) == len(answer.columns) for row in answer.rows)


def answered(book: Book, number: int, words: str = "") -> Answer:
    """Ask, and return the whole answer."""
    return ask(book, number, words)


def column(answer: Answer, name: str) -> list[str]:
    """Return one column of an answer's rows."""
    at = answer.columns.index(name)
    return [row[at] for row in answer.rows]


def test_the_sheet_behind_a_result_is_the_whole_sheet(asked_season: Book) -> None:
    answer = answered(asked_season, 1, "moth 7.2")
    values = dict(zip(column(answer, "slot"), column(answer, "value"), strict=True))
    assert values["final sprocket"] == "66T"
    assert values["clutch engagement"] == "2,900 rpm"
    assert values["rockers"] == "Stock 1.0"
    assert answer.sessions == (asked_season.session("S03").id,)


def test_the_clutch_by_what_the_sprocket_leaves(asked_season: Book) -> None:
    left, together = answered(asked_season, 5, "clutch springs").more
    assert "what the final sprocket alone (S05:B) did leaves 0.23 s quicker" in left
    assert "cannot be told from nothing" in left
    assert "clutch engagement 2,900 rpm against 2,100 rpm: can't tell yet" in together


def test_predictions_one_by_one(asked_season: Book) -> None:
    answer = answered(asked_season, 12)
    assert column(answer, "session") == ["S03", "S05", "S08", "S09", "S10"]
    signs = dict(zip(column(answer, "session"), column(answer, "sign"), strict=True))
    assert "wrong" not in signs.values()
    assert (signs["S05"], signs["S08"], signs["S09"]) == ("right", "open", "right")


def test_days_of_other_builds_are_not_mixed_in(asked_season: Book) -> None:
    answer = answered(asked_season, 10, "moth")
    assert column(answer, "session") == ["S03", "S04", "S05:A"]
    assert column(answer, "mean") == ["7.20 s", "7.74 s", "7.31 s"]


def test_machines_line_by_line(asked_season: Book) -> None:
    answer = answered(asked_season, 17, "moth badger")
    assert answer.columns == ("slot", "Kettle Moth", "Low Badger")
    rows = {row[0]: row[1:] for row in answer.rows}
    assert rows["clutch"] == ("Pepper", "Badger clutch")
    assert "bore" not in rows


def test_what_is_old_today(asked_season: Book) -> None:
    answer = answered(asked_season, 15, "moth")
    assert "Fuel age: not due, 7 of 60 days." in answer.sentence
    states = dict(zip(column(answer, "what"), column(answer, "state"), strict=True))
    assert states["rod bolts"] == "soon"
    assert states["brake pads or band"] == "not known"


def test_unknown_numbers_are_refused(asked_season: Book) -> None:
    with pytest.raises(NotFoundError, match="no question 21"):
        ask(asked_season, 21)


@pytest.mark.parametrize("number", range(1, 21))
def test_an_empty_log_says_so(tmp_path: Path, number: int) -> None:
    with Book.open(tmp_path / "log") as book:
        assert ask(book, number).sentence == "The log is empty: there is nothing yet to ask it."
