"""What a person types finds the one thing meant, or a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import NotFoundError
from core.session import Book, Place, Plan, Session, find_named, find_session, find_side, split_side
from core.setup import Machine
from tests.making import new_book


def _labelled(book: Book, *labels: str) -> dict[str, str]:
    machine = book.add_machine("Kettle Moth")
    return {
        label: book.start(Plan(machine=machine.id, test="0-50", label=label)).id for label in labels
    }


@pytest.mark.parametrize(
    ("typed", "side"),
    [
        ("S05:b", ("S05", "B")),
        ("S05", ("S05", "")),
        ("a:b:C", ("a:b", "C")),
        ("10:30", ("10:30", "")),
    ],
)
def test_a_side_is_session_and_build(typed: str, side: tuple[str, str]) -> None:
    """Only a letter after the colon is a build: a label may hold colons."""
    assert split_side(typed) == side


def test_a_whole_label_wins_over_a_build_and_over_other_letter_case(tmp_path: Path) -> None:
    book, _ = new_book(tmp_path)
    ids = _labelled(book, "S05", "S05:B", "Run", "RUN")
    heads = book.sessions()
    assert (find_side("s05:b", heads)[0].id, find_side("s05:b", heads)[1]) == (ids["S05:B"], "")
    assert find_side("S05:C", heads) == (find_session("S05", heads), "C")
    assert [book.session(word).id for word in ("Run", "RUN")] == [ids["Run"], ids["RUN"]]
    with pytest.raises(NotFoundError, match="fits 2 sessions") as refused:
        book.session("run")
    assert refused.value.hint == "Type the id of the one that is meant."


def test_a_session_by_label_id_or_head_of_one(tmp_path: Path) -> None:
    """A whole label wins over the head of a longer one; letter case does not matter."""
    book, _ = new_book(tmp_path)
    ids = _labelled(book, "S1", "S10", "Baseline day")
    heads = book.sessions()
    assert find_session("s1", heads).label == "S1"
    assert find_session("base", heads).label == "Baseline day"
    assert find_session(ids["S10"], heads).label == "S10"
    assert find_session(ids["S10"][:-1], heads).label == "S10"


@pytest.mark.parametrize("word", ["", "S", "zz", "S2"])
def test_none_or_several_is_a_sentence(tmp_path: Path, word: str) -> None:
    """Nothing is picked by guessing."""
    book, _ = new_book(tmp_path)
    _labelled(book, "S1", "S10")
    with pytest.raises(NotFoundError) as caught:
        find_session(word, book.sessions())
    assert caught.value.exit_code == 2
    assert caught.value.hint


def test_a_former_name_still_finds_the_machine(tmp_path: Path) -> None:
    """Aliases count, blanks and letter case do not."""
    book, _ = new_book(tmp_path)
    book.save(Machine(id=book.fresh_id(), name="Kettle Moth", aliases=("Old Moth",)))
    book.add_machine("Low Badger")
    assert find_named("old  MOTH", book.machines(), "machine").name == "Kettle Moth"
    assert find_named("ket", book.machines(), "machine").name == "Kettle Moth"
    with pytest.raises(NotFoundError, match="no machine"):
        find_named("otter", book.machines(), "machine")


def test_labels_follow_on(tmp_path: Path) -> None:
    """The next free label comes by itself."""
    book, _ = new_book(tmp_path)
    machine = book.add_machine("Moth")
    made = [book.start(Plan(machine=machine.id, test="0-50")).label for _ in range(3)]
    assert made == ["S01", "S02", "S03"]


def test_the_book_opens_again_with_everything(tmp_path: Path) -> None:
    """What was said to be saved is there for the next one who opens it."""
    book, clock = new_book(tmp_path)
    place = book.add_place("Vennimoor strip", ("W", "E"))
    ids = _labelled(book, "S01")
    book.close()
    with Book.open(tmp_path / "log", clock=clock) as again:
        assert again.log.get(Session, ids["S01"]).label == "S01"
        assert again.log.get(Place, place.id).directions == ("W", "E")
        assert again.name_of(place.id) == "Vennimoor strip"
        assert again.name_of("no such id") == ""
