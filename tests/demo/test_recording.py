"""The recording that belongs to the season: real sentences, whose runs are the attempts typed."""

from __future__ import annotations

from pathlib import Path

import pynmea2
import pytest

import demo
from core.attempts import find_test
from core.report import as_text
from core.report.session_pages import session_page
from core.session import Book, Session
from core.session.matching_runs import match_runs
from core.session.tracing import read_kept, wanted_of
from core.trace import TraceDocument
from core.trace.keeping import kept_path
from core.trace.runs import bearings_of, find_runs
from core.trace.traces import Trace
from demo.recording import RECORDED, recording


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The season, opened to read."""
    folder = tmp_path_factory.mktemp("recorded") / "log"
    demo.build(folder)
    return Book.open(folder, read_only=True)


@pytest.fixture(scope="module")
def session(book: Book) -> Session:
    return book.session(RECORDED)


@pytest.fixture(scope="module")
def document(book: Book) -> TraceDocument:
    (head,) = book.traces()
    return book.log.get(TraceDocument, head.id)


@pytest.fixture(scope="module")
def trace(book: Book, document: TraceDocument) -> Trace:
    return read_kept(book, document)


def test_its_document_says_what_reading_it_says(document: TraceDocument, trace: Trace) -> None:
    assert (document.sha256, document.size) == (trace.sha256, trace.size)
    assert (document.rows, document.rejected) == (trace.rows, trace.rejected_total)
    assert document.rate == pytest.approx(trace.rate)
    assert document.seconds == pytest.approx(trace.duration, abs=0.1)
    assert document.began == trace.moment(0.0)
    assert trace.noise == pytest.approx(document.noise, rel=0.15)
    assert trace.is_clean


def test_its_runs_are_the_attempts_that_were_typed(trace: Trace, session: Session) -> None:
    wanted = wanted_of(find_test(session.test))
    runs = find_runs(trace, wanted, bearings_of(session.directions)).runs
    assert len(runs) == len(session.attempts) == 8
    for run, attempt in zip(runs, session.attempts, strict=True):
        assert run.direction == attempt.direction
        assert run.value == pytest.approx(attempt.value, abs=2 * run.give_or_take)
    matching = match_runs(trace, runs, session)
    assert (matching.shift, matching.reason) == (0.0, "")
    assert [pair.attempt for pair in matching.pairs] == list(range(1, 9))


def test_every_sentence_is_one_to_the_library(book: Book, document: TraceDocument) -> None:
    text = kept_path(book.log.folder, document).read_text("ascii")
    kinds = {pynmea2.parse(line, check=True).sentence_type for line in text.splitlines()}
    assert kinds == {"RMC"}


def test_made_twice_it_is_the_same(session: Session, tmp_path: Path) -> None:
    assert recording(session.attempts) == recording(session.attempts)


def test_the_page_of_the_session_names_it(book: Book, session: Session) -> None:
    assert "recorded       moth-0906.nmea (4.4 min)" in as_text(session_page(book, session))
