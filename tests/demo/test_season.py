"""The invented season: built twice the same, and what it says of itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

import demo
from core.checks import current_checks, open_stops
from core.session import Book, Session
from core.setup import Part, derived_value
from core.stats import Verdict
from core.verdict import Comparison, compare_sessions, odd_in, side_of, within_session


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """The season, opened to read."""
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    with Book.open(folder, read_only=True) as opened:
        yield opened


def _files(folder: Path) -> dict[str, bytes]:
    return {str(f.relative_to(folder)): f.read_bytes() for f in sorted(folder.rglob("*.json"))}


def test_built_twice_it_is_the_same(book: Book, tmp_path: Path) -> None:
    """Byte for byte."""
    demo.build(tmp_path / "again")
    assert _files(tmp_path / "again") == _files(book.log.folder)


# Means of pairs, in s, as the season was laid out.
MEANS = [
    ("S01", "", 8.39),
    ("S02", "", 9.52),
    ("S03", "", 7.20),
    ("S04", "", 7.74),
    ("S05", "B", 8.27),
    ("S07", "", 9.52),
    ("S08", "", 7.39),
    ("S09", "B", 5.32),
    ("S10", "", 7.66),
]


@pytest.mark.parametrize(("label", "build", "mean"), MEANS)
def test_mean_of_pairs(book: Book, label: str, build: str, mean: float) -> None:
    """Each visit's mean, to the hundredth that was laid out."""
    side = side_of(book.session(label), build)
    assert side.kind == "pair"
    assert side.mean == pytest.approx(mean, abs=0.0051)


def _inside(book: Book, label: str) -> Comparison:
    made = within_session(book, book.session(label))
    assert made is not None
    return made


def test_the_sprocket_alone_is_worth_a_second(book: Book) -> None:
    """A-B-A on one day: 60T against 66T is 0.96 s slower, with hardly any drift."""
    made = _inside(book, "S05")
    assert made.difference is not None
    assert made.difference.value == pytest.approx(0.96, abs=0.01)
    assert made.verdict is Verdict.SLOWER
    assert made.drift == pytest.approx(0.01, abs=0.006)
    assert [c.slot for c in made.causes] == ["final_sprocket"]


def test_the_rockers_give_a_little_and_it_is_real(book: Book) -> None:
    """Rolling 40-65: 0.13 s, wholly on one side of zero, under the 0.15 that was said to matter."""
    made = _inside(book, "S09")
    assert made.difference is not None
    assert made.difference.value == pytest.approx(0.13, abs=0.01)
    assert made.verdict is Verdict.SLOWER
    assert made.below_gain


def test_two_changes_in_one_go_are_said(book: Book) -> None:
    """S03 is quicker, and the gain belongs to clutch and sprocket together."""
    made = compare_sessions(book, "S01", "S03")
    assert made.verdict is Verdict.QUICKER
    assert [c.slot for c in made.causes] == ["engagement_rpm", "final_sprocket"]
    assert "several changes" in [cap.id for cap in made.caps]


@pytest.mark.parametrize(("a", "b"), [("S02", "S07"), ("S05:A", "S08")])
def test_what_cannot_be_told_is_not_told(book: Book, a: str, b: str) -> None:
    """One day each and a small difference."""
    assert compare_sessions(book, a, b).verdict is Verdict.CANT_TELL


def test_the_odd_attempt_is_questioned_and_stays(book: Book) -> None:
    """W 7.98 has no reason: it is asked about, and it is in the mean."""
    odd = odd_in(book, book.session("S08"))
    assert [(o.n, o.value) for o in odd] == [(5, 7.98)]
    assert odd[0].second_opinion is True
    assert 5 in {n for pair in side_of(book.session("S08")).attempts for n in pair}


def test_clean_visits_are_not_questioned(book: Book) -> None:
    """No other visit has an attempt that stands apart."""
    labels = [h.label for h in book.sessions() if h.label != "S08"]
    assert {label for label in labels if odd_in(book, book.session(label))} == set()


def test_the_visit_stopped_by_a_check_is_a_full_record(book: Book) -> None:
    """Brake and throttle springs not done, no attempts, and the reason kept."""
    session = book.session("S06")
    assert session.state == "stopped"
    assert session.attempts == ()
    stops = {c.rule for c in open_stops(session.checks, 0)}
    assert {"brake_holds", "throttle_springs"} <= stops


def test_the_struck_attempt_is_there(book: Book) -> None:
    """CHAIN, coded before its time was read; four pairs remain."""
    session = book.session("S07")
    struck = [a for a in session.attempts if a.strike]
    assert [(a.n, a.value, a.strike.code if a.strike else "") for a in struck] == [
        (7, 13.1, "CHAIN")
    ]
    assert side_of(session).n == 4


def test_the_clay_was_taken_twice(book: Book) -> None:
    """Not touched does not clear; 3.1 and 2.6 mm of thicker clay do."""
    session = book.session("Bench")
    clay = next(c for c in session.checks if c.rule == "valve_to_piston")
    assert (clay.answer, clay.value, clay.second) == ("cleared", 3.1, 2.6)
    said = [line.words for line in session.trail if "valve-to-piston" in line.words]
    assert len(said) == 2
    lash = next(c for c in current_checks(session.checks, 0) if c.rule == "lash_recheck")
    assert lash.answer == "open"


def test_the_borrowed_sprocket_moved(book: Book) -> None:
    """It was the Badger's; asked about and answered "moved", there is one 63T, on the Moth."""
    parts = [p for p in book.parts() if p.name == "63T"]
    assert len(parts) == 1
    assert book.name_of(book.log.get(Part, parts[0].id).machine) == "Kettle Moth"


def test_the_sheet_is_worked_out(book: Book) -> None:
    """70 x 54 is 207.8 cm³ and the ratio 8.47. Source: geometry, by hand."""
    sheet = book.session("S01").sheets[0]
    assert derived_value(sheet, "swept_volume").value == pytest.approx(207.8, abs=0.05)
    assert derived_value(sheet, "compression_ratio").value == pytest.approx(8.47, abs=0.006)


def test_the_season_is_told(book: Book) -> None:
    """Every visit with its sentence."""
    text = demo.season_text(book)
    for head in book.sessions():
        assert f"{head.label}  " in text
        assert isinstance(book.log.get(Session, head.id), Session)
    assert "S05:B is 0.96 s slower than S05:A" in text
    assert "Stopped (brake pedal" in text
