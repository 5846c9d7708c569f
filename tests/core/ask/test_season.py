"""The season over time, the scatter's ratio against a published table, and search."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from core.ask import Season, SeasonPoint, search, season_of, steadiness_of
from core.ask import tests_run as names_of_tests
from core.ask.asker import Asker
from core.session import Book

START = datetime.fromisoformat("2026-04-01T10:00:00+02:00")


def point(index: int, sd: float, n: int) -> SeasonPoint:
    """Return one result of a season with this scatter."""
    day = START + timedelta(days=index)
    return SeasonPoint("id", f"S{index}", day, n, "pair", 7.0, 7.2, 0.1, sd, "gates")


def season(points: list[SeasonPoint]) -> Season:
    """Return a season of these results."""
    return Season("m", "0-50", "s", 2, True, tuple(points))


def test_points_are_means_with_what_changed(asked_season: Book) -> None:
    asker = Asker(asked_season)
    moth = asked_season.machine("Kettle Moth").id
    assert names_of_tests(asker.sessions, moth) == ("0-50", "40-65")
    found = season_of(asked_season, asker.sessions, moth, "0-50").points
    assert [p.label for p in found] == ["S01", "S03", "S04", "S05:A", "S05:B", "S08", "S10"]
    assert [round(p.mean, 2) for p in found] == [8.39, 7.20, 7.74, 7.31, 8.27, 7.39, 7.66]
    assert found[0].best == 7.96
    assert [p.changed for p in found] == [
        (), ("clutch engagement", "final sprocket"), (), (), ("final sprocket",), ("rockers",),
        ("final sprocket",),
    ]  # fmt: skip
    assert found[1].sd == pytest.approx(0.131, abs=0.005)


@pytest.mark.parametrize(
    ("n", "ratio", "says"),
    [
        # upper 2.5 % point of F(10, 10) is 3.717 (Pearson and Hartley, Biometrika Tables vol. 1,
        # table 18; from memory)
        (11, 3.60, "no change that chance alone"),
        (11, 3.85, "you scatter less than you did"),
    ],
)
def test_the_ratio_of_scatters_turns_where_the_table_says(n: int, ratio: float, says: str) -> None:
    told = steadiness_of(season([point(0, ratio**0.5, n), point(1, 1.0, n)]))
    assert says in told.sentence
    assert told.share is not None
    assert (told.share < 0.05) == ("less" in says)


def test_more_scatter_is_said_as_well() -> None:
    told = steadiness_of(season([point(0, 0.1, 11), point(1, 0.3, 11)]))
    assert "you scatter more than you did" in told.sentence


def test_no_scatter_at_all_is_the_timer() -> None:
    told = steadiness_of(season([point(0, 0.0, 4), point(1, 0.1, 4)]))
    assert told.share is None
    assert "timer's step" in told.sentence


@pytest.mark.parametrize(
    ("words", "kind", "where", "text"),
    [
        ("drum 118", "note", "S04 28 Jun 2026", "Clutch drum 118 °C"),
        ("strike 60 m", "strike", "S07 19 Jul 2026", "CHAIN chain came off, attempt 7"),
        ("vennimoor", "place", "Vennimoor strip", "private tarmac"),
        ("THISTLE", "part", "Thistle 1.25", "rockers"),
        ("pedal stop", "stopped", "S06 12 Jul 2026", "brake pedal"),
        ("borrowed shelf", "note", "S10 6 Sep 2026", "63T borrowed"),
    ],
)
def test_search_finds_words_wherever_they_stand(
    asked_season: Book, words: str, kind: str, where: str, text: str
) -> None:
    found = [h for h in search(asked_season, words) if (h.kind, h.where) == (kind, where)]
    assert any(text in hit.text for hit in found)


def test_search_for_nothing_finds_nothing(asked_season: Book) -> None:
    assert search(asked_season, "  ") == ()
    assert search(asked_season, "zzzz") == ()
