"""Parts moved, renamed, split and made one: old sheets stay, histories follow."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import msgspec
import pytest

from core.errors import BackToBackError, BlockedError, InputError, NotFoundError
from core.session import Book, Session
from core.setup import (
    PART_KIND,
    Part,
    SplitOff,
    came,
    linked,
    make_one,
    new_part,
    order,
    retire,
    settled_id,
    split,
    unlinked,
    want,
)
from core.shelf import (
    add_part,
    due_of,
    find_part,
    histories,
    history_of,
    join_parts,
    link_to,
    move_part,
    name_part,
    owner_of,
    retire_part,
    set_interval,
    split_part,
)
from demo.season import build

DAY = date(2026, 6, 1)


@pytest.fixture(scope="module")
def season_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented season, to be copied."""
    folder = tmp_path_factory.mktemp("shelf") / "log"
    build(folder)
    return folder


@pytest.fixture
def book(season_folder: Path, tmp_path: Path) -> Book:
    """A copy of the season, open to write."""
    import shutil

    shutil.copytree(season_folder, tmp_path / "log")
    (tmp_path / "log" / "log.lock").unlink(missing_ok=True)
    return Book.open(tmp_path / "log")


def part(name: str, **fields: object) -> Part:
    """Return a final sprocket of that name, id and name alike."""
    return msgspec.structs.replace(new_part(name, "final_sprocket", name.lower()), **fields)


def sheets(book: Book) -> list[object]:
    """Return every setup sheet of the log."""
    return [book.log.get(Session, head.id).sheets for head in book.sessions()]


def test_a_rename_and_back_again_is_no_ring(book: Book) -> None:
    before = sheets(book)
    name_part(book, find_part(book, "66T"), "Big one")
    name_part(book, find_part(book, "Big one"), "66T")
    found = find_part(book, "big one")
    assert (found.name, found.aliases) == ("66T", ("Big one",))
    assert sheets(book) == before
    assert history_of(book, found.id).attempts == 58


def test_a_part_made_another_takes_its_history_along(book: Book) -> None:
    before = sheets(book)
    sixty, other = find_part(book, "60T"), find_part(book, "66T")
    runs = [history_of(book, p.id).attempts for p in (sixty, other)]
    said = join_parts(book, other, sixty)
    assert said.startswith("60T was 66T all along")
    past = histories(book)
    assert sixty.id not in past
    assert past[other.id].attempts == sum(runs) == 72
    assert history_of(book, sixty.id) == past[other.id]
    assert find_part(book, "60T").id == other.id
    assert sheets(book) == before
    assert {u.name for u in past[other.id].uses} == {"60T", "66T"}


def test_a_part_split_in_two_leaves_the_sheets_and_shares_the_history(book: Book) -> None:
    before = sheets(book)
    rod = find_part(book, "forged rod")
    whole = history_of(book, rod.id).attempts
    split_part(book, rod, "second rod", since="2026-08-01")
    second = find_part(book, "second rod")
    past = histories(book)
    assert [u.label for u in past[second.id].uses] == ["S08", "S09", "S10"]
    assert past[rod.id].attempts + past[second.id].attempts == whole
    assert sheets(book) == before


def test_a_part_retired_while_fitted_is_said_and_keeps_its_history(book: Book) -> None:
    pepper = find_part(book, "Pepper")
    said = retire_part(book, pepper, "shoes gone")
    assert "retired while fitted: it is off Kettle Moth" in said
    assert "needs another clutch" in said
    after = book.log.get(Part, pepper.id)
    assert (after.status, after.machine) == ("retired", "")
    assert history_of(book, pepper.id).attempts == 80
    with pytest.raises(BlockedError, match="retired"):
        move_part(book, after, "Low Badger")


def test_a_part_moves_to_the_other_machine(book: Book) -> None:
    assert move_part(book, find_part(book, "63T"), "badger") == (
        "63T is on Low Badger, off Kettle Moth. Its setup sheet says so once you pick it there."
    )


def test_a_link_to_nothing_is_kept_and_said(book: Book) -> None:
    said = link_to(book, find_part(book, "63T"), "photos/teeth.jpg", "worn side")
    assert said.endswith("which is not there now.")
    with pytest.raises(InputError, match="already"):
        link_to(book, find_part(book, "63T"), "photos/teeth.jpg")


def test_names_that_fit_several_or_none_are_refused(book: Book) -> None:
    with pytest.raises(NotFoundError, match="fits 3 parts"):
        find_part(book, "chain for")
    with pytest.raises(NotFoundError, match="no part"):
        find_part(book, "nothing such")


def test_new_parts_and_supplies(book: Book) -> None:
    assert "63T is on the shelf as here, for final sprocket. There is another" in add_part(
        book, "63T", "rear sprocket"
    )
    assert "modelling clay is on the shelf as wanted" in add_part(book, "", "clay", status="wanted")


def test_intervals_are_the_users_own(book: Book) -> None:
    moth = book.machine("Kettle Moth").id
    today = date(2026, 9, 7)

    def oil() -> tuple[str, bool]:
        due = next(d for d in due_of(book, moth, today) if d.row.id == "oil")
        return due.state, due.row.own

    assert oil() == ("fine", False)
    assert set_interval(book, "oil=4h") == "oil: 4 hours."
    assert oil() == ("due", True)
    set_interval(book, "oil=")
    assert oil()[0] == "fine"
    for wrong in ("oil=0h", "oil=soon", "wings=4h"):
        with pytest.raises(BackToBackError):
            set_interval(book, wrong)


def test_a_ring_of_parts_that_are_each_the_next_one_ends() -> None:
    ring = {n: part(n, same_as=other) for n, other in (("a", "b"), ("b", "c"), ("c", "a"))}
    assert {settled_id(n, ring) for n in ring} == {"a"}
    owner = owner_of(
        [part("x", split_off=SplitOff(part="y")), part("y", split_off=SplitOff(part="x"))]
    )
    assert owner("x", "m", DAY) in ("x", "y")


def test_what_is_one_already_or_cannot_be_one() -> None:
    a, b = part("A"), part("B")
    one, gone = make_one(a, b, [a, b])
    assert (one.aliases, gone.same_as) == (("B",), "a")
    with pytest.raises(InputError, match="one part already"):
        make_one(one, gone, [one, gone])
    with pytest.raises(InputError, match="one part already"):
        make_one(a, a, [a])
    on = [part(n, status="fitted", machine=m) for n, m in (("C", "m1"), ("D", "m2"))]
    with pytest.raises(BlockedError, match="two machines"):
        make_one(on[0], on[1], on)
    with pytest.raises(InputError, match="different slots"):
        make_one(a, new_part("rod", "rod", "r"), [])


def test_splitting_needs_to_know_which_and_what() -> None:
    a = part("A")
    with pytest.raises(InputError, match="Which entries"):
        split(a, "B", "b", None, since=None)  # type: ignore[arg-type]  # the time is not reached
    with pytest.raises(InputError, match="another name"):
        split(a, "a", "b", None, machine="m")  # type: ignore[arg-type]


def test_wanted_ordered_here_and_links() -> None:
    wished = want(part("A", status="ordered"))
    assert order(wished).status == "ordered"
    here = came(order(wished))
    assert here.status == "here"
    with pytest.raises(BlockedError, match="cannot be ordered"):
        order(here)
    with pytest.raises(BlockedError, match="does not come back"):
        came(retire(here, "cracked"))
    assert unlinked(linked(here, "a.jpg"), "a.jpg").links == ()
    with pytest.raises(InputError, match="path"):
        linked(here, "  ")


def test_a_part_of_the_first_format_is_read(tmp_path: Path) -> None:
    with Book.open(tmp_path / "log") as book:
        pass
    old = '{"format": 1, "id": "p1", "name": "63T", "slot": "final_sprocket", "teeth": 63}'
    (tmp_path / "log" / "parts" / "p1.json").write_text(old)
    with Book.open(tmp_path / "log") as book:
        found = book.log.get(Part, "p1")
        assert (found.teeth, found.same_as, found.split_off) == (63, "", None)
        book.save(msgspec.structs.replace(found, note="seen"))
        assert (tmp_path / "log" / "parts" / "p1.json.format1").read_text() == old
    assert PART_KIND.version == 2
