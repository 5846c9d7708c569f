"""What each part did, out of real logs: told where it can be, named where it cannot."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.attempts import AirReading, Strike
from core.errors import InputError, NotFoundError
from core.report.effects_page import effects_data, effects_page, effects_picture
from core.session import Book, Session
from core.setup import Machine, Part, Sheet, fitted
from core.stats import Verdict
from core.verdict import compare_sessions
from core.verdict.effects import Allowance, PartEffect, PartEffects, effects_of, gather_evidence
from tests.making import bare_session, new_book

FAST = "W7.44 E7.14 W7.39 E7.13 W7.36 E7.04"
SLOW = "W8.34 E8.06 W8.44 E7.95 W8.43 E8.11"
BETWEEN = "W7.94 E7.56 W7.94 E7.65 W7.93 E7.61"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """Return a new log of one machine."""
    made, _ = new_book(tmp_path)
    made.save(Machine(id="m1", name="Kettle Moth"))
    with made:
        yield made


def _ran(label: str, day: int, *blocks: tuple[str, dict[str, float]], **more: Any) -> Session:
    texts, sheets = zip(*blocks, strict=True)
    return bare_session(label, texts, day=day, sheets=sheets, gain=0.15, **more)


def _build(teeth: int, engagement: int = 2100) -> dict[str, float]:
    return {"final_sprocket_teeth": teeth, "engagement_rpm": engagement}


def _effect(found: PartEffects, slot: str) -> PartEffect:
    return next(e for e in (*found.effects, *found.around) if e.factor == slot)


def _plain(found: PartEffects) -> str:
    """All that is shown and exported, as text; broken numbers would fail to be written."""
    picture = effects_picture(found, found.effects)
    assert all(row.bar is not None for row in picture.rows)
    return json.dumps(effects_data(found), allow_nan=False) + str(effects_page(found))


def test_parts_changed_together_are_named_and_get_no_number(book: Book) -> None:
    """Until one of them is swapped alone; then both are told, the other one by subtraction."""
    book.save(
        _ran("S01", 0, (SLOW, _build(60))),
        _ran("S02", 7, (FAST, _build(66, 2900))),
        _ran("S03", 14, (SLOW, _build(60))),
    )
    before = effects_of(book, "Kettle Moth")
    assert [effect.known for effect in before.effects] == [None, None]
    group = before.together[0]
    assert group.sentence == "Never tested apart: clutch engagement with final sprocket teeth."
    assert group.lines[0].known.value == pytest.approx(-0.95, abs=0.02)
    assert "as a whole" in group.lines[0].sentence
    data = effects_data(before)
    assert [row["difference"] for row in data["effects"]] == [None, None]
    assert "never tested apart" in _plain(before)
    assert not effects_picture(before, before.effects).rows

    book.save(
        _ran("S04", 21, (FAST, _build(66, 2900)), (BETWEEN, _build(60, 2900)),
             (FAST, _build(66, 2900)))
    )  # fmt: skip
    after = effects_of(book, "Kettle Moth")
    assert after.together == ()
    sprocket, clutch = (_effect(after, s) for s in ("final_sprocket_teeth", "engagement_rpm"))
    assert sprocket.known is not None
    assert clutch.known is not None
    assert sprocket.known.value == pytest.approx(-0.52, abs=0.02)
    assert sprocket.how == "alone, on one day"
    assert sprocket.verdict is Verdict.QUICKER
    assert clutch.known.value == pytest.approx(-0.43, abs=0.03)
    assert clutch.known.se > 2 * sprocket.known.se


def test_one_day_there_and_back_says_what_a_comparison_says(book: Book) -> None:
    """The drift is taken out in the same way, and the range is about as wide."""
    book.save(_ran("S05", 0, (FAST, _build(66)), (SLOW, _build(60)), (FAST, _build(66))))
    made = compare_sessions(book, "S05:A", "S05:B").difference
    found = _effect(effects_of(book), "final_sprocket_teeth").known
    assert made is not None
    assert found is not None
    assert found.value == pytest.approx(made.value, abs=0.005)
    assert found.high - found.low == pytest.approx(made.high - made.low, rel=0.25)


def test_riders_are_kept_apart_where_the_log_allows(book: Book) -> None:
    """A rider who came with the sprocket is named with it; once both ran both, both are told."""
    book.save(
        _ran("S01", 0, (SLOW, _build(60)), rider="R1"),
        _ran("S02", 7, (FAST, _build(66)), rider="R2"),
    )
    tied = effects_of(book)
    assert tied.together[0].labels == ("final sprocket teeth", "rider")
    assert tied.effects[0].known is None
    assert tied.around[0].known is None
    book.save(_ran("S03", 14, (FAST, _build(66)), rider="R1"))
    apart = effects_of(book)
    sprocket, rider = _effect(apart, "final_sprocket_teeth"), _effect(apart, "by rider")
    assert sprocket.known is not None
    assert rider.known is not None
    assert sprocket.known.value == pytest.approx(-0.95, abs=0.05)
    assert abs(rider.known.value) < 0.05
    assert (rider.before_words, rider.after_words) == ("R1", "R2")


def test_what_was_not_recorded_is_said_to_be_the_reason(book: Book) -> None:
    book.save(
        _ran("S01", 0, (SLOW, {"final_sprocket_teeth": 60})),
        _ran("S02", 7, (FAST, _build(66, 2900))),
    )
    found = effects_of(book)
    assert "Some sheets do not record one of them" in found.together[0].sentence
    assert _effect(found, "engagement_rpm").before_words == "not recorded"


def test_what_only_follows_another_change_is_counted_with_it(book: Book) -> None:
    """Engagement that never moved without the clutch springs is theirs."""
    book.save(
        _ran("S01", 0, (SLOW, {"clutch_springs": 1, "engagement_rpm": 2100})),
        _ran("S02", 7, (FAST, {"clutch_springs": 2, "engagement_rpm": 2900})),
    )
    found = effects_of(book)
    assert [effect.factor for effect in found.effects] == ["clutch_springs"]
    assert found.effects[0].known is not None
    assert "Counted with what they follow: clutch engagement." in found.notes


def test_what_cannot_be_compared_is_left_out_with_its_reason(book: Book) -> None:
    """Wind, no directions, mixed gear; struck attempts never count."""
    windy = AirReading(observed=datetime(2026, 4, 12, tzinfo=UTC), wind=4.0)
    mixed = _ran("S04", 21, (SLOW, _build(60)))
    tries = tuple(msgspec.structs.replace(a, timing="hand" * (a.n == 1)) for a in mixed.attempts)
    struck = _ran("S05", 28, (SLOW, _build(55)))
    late = tuple(msgspec.structs.replace(a, strike=Strike(code="LATE")) for a in struck.attempts)
    book.save(
        _ran("S01", 0, (SLOW, _build(60))),
        _ran("S02", 7, (FAST, _build(66)), air=(windy,)),
        _ran("S03", 14, ("7.3 7.2 7.4", _build(66))),
        msgspec.structs.replace(mixed, attempts=tries),
        msgspec.structs.replace(struck, attempts=late),
    )
    found = effects_of(book)
    assert found.sessions == 1
    assert found.left_out == (
        "Left out: S02; the wind was beyond 3 m/s mean or 5 m/s in gusts.",
        "Left out: S03; some attempts have no direction.",
        "Left out: S04; attempts were timed with different gear.",
    )
    assert found.effects == ()
    assert "one build" in found.sentence


def test_an_allowance_is_taken_off_and_its_doubt_widens_the_range(book: Book) -> None:
    book.save(_ran("S01", 0, (SLOW, _build(60))), _ran("S02", 7, (FAST, _build(66))))
    ids = {head.label: head.id for head in book.sessions()}
    raw = effects_of(book).effects[0].known
    shifted = effects_of(book, allowances={ids["S01"]: Allowance(0.4)}).effects[0].known
    doubted = effects_of(book, allowances={ids["S01"]: Allowance(0.4, 0.5)}).effects[0].known
    assert raw is not None
    assert shifted is not None
    assert doubted is not None
    assert shifted.value == pytest.approx(raw.value + 0.4, abs=0.02)
    assert doubted.high - doubted.low > 1.3 * (shifted.high - shifted.low)


def test_several_machines_each_have_a_level_of_their_own(book: Book) -> None:
    book.save(Machine(id="m2", name="Low Badger"))
    fast = FAST.replace("7.", "9.")
    book.save(
        _ran("S01", 0, (SLOW, _build(60))),
        _ran("S02", 7, (FAST, _build(66))),
        _ran("S03", 1, (fast, _build(66)), machine="m2"),
    )
    alone, together = effects_of(book, "Kettle Moth"), effects_of(book, "all")
    assert together.sessions == 3
    one, both = alone.effects[0].known, together.effects[0].known
    assert one is not None
    assert both is not None
    assert both.value == pytest.approx(one.value, abs=0.01)


@pytest.mark.parametrize(
    ("sessions", "says"),
    [
        ([("S01", 0, "", {})], "has no attempts on 0-50 that count yet"),
        ([("S01", 0, "W8.1", {})], "one build, so there is nothing to hold it against yet"),
        ([("S01", 0, "W8.1 E8.1", {}), ("S02", 3, "W8.1 E8.1", {})], "no part or setting was"),
        ([("S01", 0, SLOW, _build(60)), ("S02", 3, SLOW, _build(60))], "no part or setting was"),
        ([("S01", 0, "W8 E8", _build(60)), ("S02", 0, "W8 E8", _build(66))], "of no change"),
    ],
)  # fmt: skip
def test_a_thin_log_gets_a_sentence_and_no_broken_number(
    book: Book, sessions: list[tuple[str, int, str, dict[str, float]]], says: str
) -> None:
    """No attempt, one session, nothing ever changed, all times equal."""
    book.save(*(_ran(label, day, (text, sheet)) for label, day, text, sheet in sessions))
    found = effects_of(book, "Kettle Moth", "0-50")
    assert says in found.sentence
    assert "nan" not in _plain(found).casefold()
    assert all(effect.verdict is Verdict.CANT_TELL for effect in found.effects)


def test_questions_without_an_answer_are_refused_in_a_sentence(book: Book) -> None:
    with pytest.raises(NotFoundError, match="no session yet"):
        effects_of(book)
    with pytest.raises(NotFoundError, match="no timed attempts yet"):
        effects_of(book, "Kettle Moth")
    with pytest.raises(NotFoundError):
        effects_of(book, "Nobody")
    with pytest.raises(InputError, match="no number"):
        effects_of(book, "Kettle Moth", "plug")


def test_a_session_whose_sheet_cannot_be_read_is_told_as_left_out(book: Book) -> None:
    """A file cut short is no session at all; a head without its sheet is left out by name."""
    book.save(_ran("S01", 0, (SLOW, _build(60))), _ran("S02", 7, (FAST, _build(66))))
    heads = book.sessions()
    found = gather_evidence(heads, {}, "0-50", names=str, parts=[])
    assert found.blocks == ()
    assert found.left_out == ("Left out: S01, S02; the setup sheet cannot be read.",)
    path = book.log.folder / "sessions" / f"{heads[1].id}.json"
    path.write_bytes(path.read_bytes()[:-200])
    with Book.open(book.log.folder, read_only=True) as again:
        assert effects_of(again).sessions == 1


def test_parts_that_were_made_one_are_one_level(book: Book) -> None:
    """And a test or timing gear that only a later version knows stops nothing."""
    one, other = (Part(id=f"p{i}", name=f"Pipe {i}", slot="exhaust") for i in (1, 2))
    builds = [{"exhaust": fitted(part.id, part.name)} for part in (one, other)]
    made = [
        msgspec.structs.replace(_ran(label, day, (text, {})), sheets=(Sheet(readings=build),))
        for label, day, text, build in (("S01", 0, SLOW, builds[0]), ("S02", 7, FAST, builds[1]))
    ]
    book.save(one, other, *made)
    assert len(effects_of(book).effects) == 1
    book.save(msgspec.structs.replace(other, same_as="p1"))
    assert effects_of(book).effects == ()
    book.save(
        msgspec.structs.replace(_ran("S03", 9, (SLOW, {})), test="quarter-moon"),
        _ran("S04", 11, (SLOW, {}), timing="sundial"),
    )
    found = effects_of(book)
    assert found.test == "0-50"
    assert found.left_out == ("Left out: S04; the timing gear is none that I know.",)
