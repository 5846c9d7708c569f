"""Two laptops' logs made one: new goes in, the rest is shown, and nothing is thrown away."""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from core.errors import InputError, LogFolderError, NewerFormatError, UsageError
from core.exchange import export_lines
from core.exchange.merge import (
    Decision,
    Merged,
    MergePlan,
    apply_merge,
    copies_in,
    plan_merge,
    read_decision,
    source_of,
)
from core.report import as_text
from core.report.merging import merge_data, merge_page
from core.session import Book, Session, note
from core.setup import Part, new_part
from core.trace import TraceDocument
from core.trace.keeping import is_kept_whole
from demo.season import build
from tests.tui.season import small_season

START = datetime.fromisoformat("2026-10-01T10:00:00+02:00")
Edit = Callable[[Book], None]


@pytest.fixture(scope="module")
def origin(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log of six sessions and one part, to be copied to two laptops."""
    folder = small_season(tmp_path_factory.mktemp("origin"))
    with Book.open(folder) as book:
        book.save(new_part("63T", "final_sprocket", "part-63"))
    return folder


class Laptops:
    """Two copies of a log."""

    def __init__(self, origin: Path, folder: Path) -> None:
        self.here, self.there = (Path(shutil.copytree(origin, folder / n)) for n in ("h", "t"))

    def edit(self, folder: Path, change: Edit, seed: int = 1) -> None:
        """Change one of the copies."""
        with Book.open(folder, clock=lambda: START, rng=random.Random(seed)) as book:
            change(book)

    def plan(self, other: Path | None = None) -> MergePlan:
        """Return what merging the other into this one would do."""
        with Book.open(self.here, read_only=True, create=False) as book:
            return plan_merge(book, source_of(book, other or self.there))

    def merge(self, *decided: tuple[str, Decision], own_copies: bool = False) -> Merged:
        """Merge the other one into this one."""
        with Book.open(self.here, clock=lambda: START, rng=random.Random(9)) as book:
            source = source_of(book, None if own_copies else self.there)
            return apply_merge(book, plan_merge(book, source), dict(decided))

    def document(self, type_: type[Part], id_: str) -> Part:
        """Return a part as the log here has it."""
        with Book.open(self.here, read_only=True, create=False) as book:
            return book.log.get(type_, id_)


@pytest.fixture
def laptops(origin: Path, tmp_path: Path) -> Laptops:
    """Two copies of the log."""
    return Laptops(origin, tmp_path)


def noted(label: str, words: str, minutes: int = 0) -> Edit:
    """Write a note into a session."""
    at = START + timedelta(minutes=minutes)
    return lambda book: book.save(note(book.session(label), words, at))


def part_named(name: str, **fields: object) -> Edit:
    """Give the part another name and other fields."""

    def change(book: Book) -> None:
        part = book.log.get(Part, "part-63")
        book.save(msgspec.structs.replace(part, name=name, **fields))

    return change


def files(folder: Path) -> dict[str, bytes]:
    """Return what every document file and every file put aside holds."""
    return {
        str(p.relative_to(folder)): p.read_bytes()
        for p in folder.rglob("*.json*")
        if p.name != "log.lock"
    }


def test_a_log_merged_with_its_copy_or_itself_changes_nothing(laptops: Laptops) -> None:
    before = files(laptops.here)
    plan = laptops.plan()
    assert (plan.new, plan.clashes, plan.further) == ((), (), ())
    assert plan.same == len([f for f in before if f != "log.json"])
    assert laptops.merge().new == ()
    assert files(laptops.here) == before
    with pytest.raises(InputError, match="very log"):
        laptops.plan(laptops.here)


def test_what_is_new_goes_in_and_twice_is_once(laptops: Laptops) -> None:
    def anew(book: Book) -> None:
        book.save(new_part("60T", "final_sprocket", "part-60"))

    laptops.edit(laptops.there, anew)
    assert laptops.merge().new == ("60T",)
    assert laptops.document(Part, "part-60").teeth == 60
    assert laptops.merge().new == ()


def test_a_session_that_goes_on_is_no_conflict_either_way(laptops: Laptops) -> None:
    laptops.edit(laptops.there, noted("S03", "gone on with there"))
    assert laptops.merge().further == ("S03",)
    laptops.edit(laptops.here, noted("S01", "gone on with here"))
    plan = laptops.plan()
    assert (plan.behind, plan.further, plan.clashes) == (1, (), ())


def test_a_session_changed_by_hand_is_never_taken_for_one_that_goes_on(laptops: Laptops) -> None:
    def forged(book: Book) -> None:
        after = note(book.session("S03"), "gone on", START)
        book.save(msgspec.structs.replace(after, question="another question"))

    laptops.edit(laptops.there, forged)
    assert [c.name for c in laptops.plan().clashes] == ["S03"]


def test_two_that_went_on_apart_are_shown_side_by_side_and_left(laptops: Laptops) -> None:
    laptops.edit(laptops.here, noted("S03", "it felt rich"))
    laptops.edit(laptops.there, noted("S03", "it felt lean", 5))
    before = files(laptops.here)
    (clash,) = laptops.merge().open
    assert files(laptops.here) == before
    told = {d.field: (d.here, d.there) for d in clash.found}
    assert told["notes 1"] == ("it felt rich", "it felt lean")
    page = as_text(merge_page(laptops.plan(), None))
    assert "it felt rich" in page
    assert "it felt lean" in page
    assert f"--both {clash.id}" in page
    assert json.dumps(merge_data(laptops.plan(), None))


@pytest.mark.parametrize("which", ["here", "there", "both"])
def test_a_decision_keeps_what_did_not_win_and_is_not_asked_again(
    laptops: Laptops, which: str
) -> None:
    laptops.edit(laptops.here, noted("S03", "it felt rich"))
    laptops.edit(laptops.there, noted("S03", "it felt lean", 5))
    merged = laptops.merge(read_decision("S03", which))  # type: ignore[arg-type]
    assert merged.open == ()
    kept = b"".join(files(laptops.here).values())
    assert b"it felt rich" in kept
    assert b"it felt lean" in kept
    with Book.open(laptops.here, read_only=True, create=False) as book:
        labels = sorted(h.label for h in book.sessions() if h.label.startswith("S03"))
        notes = book.session(book.sessions()[2].id).notes
    assert labels == (["S03", "S03 (other log)"] if which == "both" else ["S03"])
    assert notes == (("it felt lean",) if which == "there" else ("it felt rich",))
    again = laptops.plan()
    assert again.clashes == ()
    assert again.decided == (0 if which == "there" else 1)


def test_single_fields_of_a_part_may_be_taken(laptops: Laptops) -> None:
    laptops.edit(laptops.here, part_named("63T steel"))
    laptops.edit(laptops.there, part_named("63T worn", teeth=63, cost=12.0))
    laptops.merge(read_decision("part-63:cost", "there"))
    part = laptops.document(Part, "part-63")
    assert (part.name, part.cost) == ("63T steel", 12.0)
    kept = files(laptops.here)
    assert sum(b"63T worn" in data for data in kept.values()) == 1


@pytest.mark.parametrize(
    ("text", "which", "says"),
    [
        ("S99", "here", "names no one conflict"),
        ("part-63:wings", "there", "no field wings"),
        ("part-63", "both", "cannot be kept twice"),
        ("S03:notes", "there", "taken whole"),
        (" :x", "there", "Which document"),
    ],
)
def test_decisions_that_fit_nothing_are_refused_before_anything_is_saved(
    laptops: Laptops, text: str, which: str, says: str
) -> None:
    laptops.edit(laptops.here, part_named("63T steel"))
    laptops.edit(laptops.here, noted("S03", "rich"))
    laptops.edit(laptops.there, part_named("63T worn"))
    laptops.edit(laptops.there, noted("S03", "lean", 5))
    before = files(laptops.here)
    with pytest.raises(UsageError, match=says):
        laptops.merge(read_decision(text, which))  # type: ignore[arg-type]
    assert files(laptops.here) == before


def test_a_half_copied_folder_gives_what_it_has_and_says_what_is_missing(
    laptops: Laptops,
) -> None:
    laptops.edit(laptops.there, lambda book: book.save(new_part("60T", "final_sprocket", "p60")))
    session = next((laptops.there / "sessions").glob("*s06aa.json"))
    session.write_bytes(session.read_bytes()[:400])
    (laptops.there / "log.json").unlink()
    plan = laptops.plan()
    assert [getattr(d, "name", "") for d in plan.new] == ["60T"]
    said = " ".join(plan.remarks)
    assert "log.json is missing" in said
    assert "cannot be read" in said
    assert plan.source.in_part


def test_sessions_whose_machine_was_not_copied_come_in_and_are_named(
    laptops: Laptops, tmp_path: Path
) -> None:
    with Book.open(tmp_path / "bare") as book:
        book.add_machine("Another")
    laptops.here = tmp_path / "bare"
    shutil.rmtree(laptops.there / "machines")
    plan = laptops.plan()
    assert any("S01 ran on a machine that neither log holds" in r for r in plan.remarks)
    assert len(laptops.merge().new) == len(plan.new) > 6


@pytest.mark.parametrize("whole", [True, False])
def test_recordings_come_along_or_are_said_to_be_missing(
    laptops: Laptops, tmp_path: Path, whole: bool
) -> None:
    build(tmp_path / "season")
    laptops.there = tmp_path / "season"
    (recording,) = (laptops.there / "traces").glob("*.nmea")
    if not whole:
        recording.write_bytes(recording.read_bytes()[:100])
    merged = laptops.merge()
    with Book.open(laptops.here, read_only=True, create=False) as book:
        (kept,) = book.log.all(TraceDocument)
        assert is_kept_whole(book.log.folder, kept) == whole
    assert any("did not come along" in said for said in merged.settled) != whole


def test_machines_of_one_name_made_apart_stay_two(laptops: Laptops, tmp_path: Path) -> None:
    with Book.open(tmp_path / "own") as book:
        book.add_machine("kettle moth")
    laptops.here = tmp_path / "own"
    assert any("called Kettle Moth, made apart" in r for r in laptops.plan().remarks)


def test_an_older_format_is_brought_up_and_a_newer_one_left(laptops: Laptops) -> None:
    parts = laptops.there / "parts"
    (parts / "part-63.json").unlink()
    old = '{"format": 1, "id": "p-old", "name": "58T", "slot": "final_sprocket"}'
    (parts / "p-old.json").write_text(old)
    (parts / "p-new.json").write_text(old.replace("p-old", "p-new").replace(" 1,", " 99,"))
    plan = laptops.plan()
    assert [d.id for d in plan.new] == ["p-old"]
    assert any("format 99" in r for r in plan.remarks)
    assert (parts / "p-old.json").read_text() == old
    (laptops.there / "log.json").write_text('{"format": 99, "id": "x"}')
    with pytest.raises(NewerFormatError):
        laptops.plan()


def test_empty_missing_and_foreign_folders(laptops: Laptops, tmp_path: Path) -> None:
    with Book.open(tmp_path / "empty"):
        pass
    plan = laptops.plan(tmp_path / "empty")
    assert plan.new == ()
    assert any("holds no document" in r for r in plan.remarks)
    with pytest.raises(LogFolderError):
        laptops.plan(tmp_path / "nowhere")
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "a.jpg").write_bytes(b"x")
    with pytest.raises(LogFolderError):
        laptops.plan(tmp_path / "photos")


def test_json_lines_are_merged_as_a_folder_is(laptops: Laptops, tmp_path: Path) -> None:
    laptops.edit(laptops.there, part_named("63T worn"))
    with Book.open(laptops.there, read_only=True, create=False) as book:
        data = b"".join(export_lines(book))
    (tmp_path / "there.jsonl").write_bytes(data + b'{"cut off')
    plan = laptops.plan(tmp_path / "there.jsonl")
    assert [c.id for c in plan.clashes] == ["part-63"]
    assert plan.source.in_part


COPY_NAMES = (
    "part-63.conflict-20261001-LAPTOP.json",
    "part-63 (copy of the other laptop 2026-10-01).json",
    "part-63~HOST-2.json",
    "part-63-laptop.json",
)


@pytest.mark.parametrize("name", COPY_NAMES)
def test_conflict_copies_are_found_offered_and_put_away(laptops: Laptops, name: str) -> None:
    laptops.edit(laptops.there, part_named("63T worn"))
    copy = laptops.here / "parts" / name
    shutil.copy(laptops.there / "parts" / "part-63.json", copy)
    with Book.open(laptops.here, read_only=True, create=False) as book:
        (found,) = copies_in(book.log)
        assert (found.id, found.file) == ("part-63", f"parts/{name}")
        plan = plan_merge(book, source_of(book, None))
    assert [c.id for c in plan.clashes] == ["part-63"]
    assert laptops.merge(own_copies=True).open
    assert copy.exists()
    laptops.merge(read_decision("63T", "there"), own_copies=True)
    assert laptops.document(Part, "part-63").name == "63T worn"
    assert not copy.exists()
    assert any(b'"63T"' in data for data in files(laptops.here).values())


def test_a_copy_that_says_the_same_or_whose_document_is_gone(laptops: Laptops) -> None:
    parts = laptops.here / "parts"
    shutil.copy(parts / "part-63.json", parts / "part-63.copy.json")
    merged = laptops.merge(own_copies=True)
    assert (merged.open, len(merged.aside)) == ((), 1)
    (parts / "part-63.json").rename(parts / "part-63.copy.json")
    assert laptops.merge(own_copies=True).new == ("63T",)
    assert laptops.document(Part, "part-63").name == "63T"


def test_no_copies_is_a_sentence(laptops: Laptops) -> None:
    with Book.open(laptops.here, read_only=True, create=False) as book:
        plan = plan_merge(book, source_of(book, None))
    assert plan.remarks == ("No conflict copy lies in this log: there is nothing to merge.",)


def test_deleted_machines_keep_their_sessions_readable(laptops: Laptops) -> None:
    shutil.rmtree(laptops.here / "machines")
    with Book.open(laptops.here, read_only=True, create=False) as book:
        from core.ask import QUESTIONS, ask

        for question in QUESTIONS:
            assert ask(book, question.number).sentence.endswith(".")
    laptops.merge()
    with Book.open(laptops.here, read_only=True, create=False) as book:
        assert book.name_of(book.log.get(Session, book.sessions()[0].id).machine) == "Kettle Moth"
