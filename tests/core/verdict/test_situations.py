"""Every situation row by row: what brings it about, and the words it is answered with."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest

from core.errors import InputError
from core.session import CloseOut, Session
from core.stats import Verdict
from core.verdict import Comparison, compare_sessions
from core.verdict.case import Surroundings
from core.verdict.situations import ON_TOP, SITUATIONS
from tests.core.verdict.comparing import TIGHT, WIDE, air, faster, held, ran, struck
from tests.making import new_book

S66: dict[str, float] = {}
S60 = {"final_sprocket_teeth": 60.0}
MORE = tuple(ran(f"R{i}", TIGHT, day=40 + 7 * i) for i in range(4))
"""Four quiet days of one build, so that spreads are small and well known."""


def _package() -> Comparison:
    both = {"engagement_rpm": 2100.0, "final_sprocket_teeth": 60.0}
    return held(ran("S01", faster(TIGHT, -1.2), sheets=(both,)), ran("S03", day=21), *MORE)


def _best() -> Comparison:
    after = "W7.55 E7.15 W7.66 E7.10 W7.62 E6.70 W7.50 E7.22 W7.60 E7.12"
    return held(ran("S01", WIDE), ran("S02", after, day=7))


def _hot() -> Comparison:
    return held(ran("S03"), ran("S04", faster(TIGHT, -0.5), day=50, air=(air(50, 34.0),)), *MORE)


def _clocks() -> Comparison:
    return held(ran("S01", timing="hand"), ran("S02", faster(TIGHT, 0.2), day=7))


def _one_way() -> Comparison:
    return held(ran("S01"), ran("S02", "E7.1 E7.2 E7.0 E7.1 E7.2 E7.1", day=7))


def _one() -> Comparison:
    return held(ran("S01"), ran("S02", "W7.30 E7.20", day=7))


def _few() -> Comparison:
    return held(ran("S01", WIDE, timing="hand"), ran("S02", WIDE, timing="hand"), gain=0.12)


def _null() -> Comparison:
    return held(ran("S01"), ran("S02", sheets=({"exhaust_length": 400.0},)), *MORE)


def _drift() -> Comparison:
    blocks = [TIGHT, faster(TIGHT, -0.08), faster(TIGHT, -0.20)]
    day = ran("S05", blocks, sheets=(S66, S60, S66))
    return held(day, day, builds=("A", "B"))


def _hangs() -> Comparison:
    late = struck(ran("S02", f"{faster(TIGHT, 0.2)} W7.90 E7.90"), 9, 10, late=True)
    return held(ran("S01"), late, *MORE)


def _rockers() -> Comparison:
    return held(ran("S01"), ran("S02", day=7, sheets=({"rocker_ratio": 1.25},)))


def _lighter() -> Comparison:
    return held(ran("S01"), ran("S02", faster(TIGHT, 0.31), day=7, sheets=({"rider_mass": 72.0},)))


def _looks() -> Comparison:
    return held(ran("S01"), ran("S02", day=7), around=Surroundings(looked_at=9))


def _days() -> Comparison:
    return held(ran("S01"), ran("S02", faster(TIGHT, 0.18), day=7))


def _score() -> Comparison:
    around = Surroundings(predicted=9, predicted_right=5)
    return held(ran("S01"), ran("S02", day=7), around=around)


def _no_revert() -> Comparison:
    day = ran("S05", [TIGHT, faster(TIGHT, 0.3)], sheets=(S66, S60))
    return held(day, day, *MORE, builds=("A", "B"))


def _jetting() -> Comparison:
    return held(ran("S01"), ran("S02", day=7, sheets=({"exhaust_length": 400.0},)))


def _closed(session: Session, **more: str) -> Session:
    made = msgspec.convert({"learnt": "", "decision": "keep", **more}, CloseOut)
    return msgspec.structs.replace(session, close_out=made)


def _plug() -> Comparison:
    kept = _closed(ran("S02", day=7), because="The plug is a nice tan colour now.")
    return held(ran("S01"), kept)


def _percent() -> Comparison:
    told = _closed(ran("S02", day=7), learnt="3 % from the pipe on top of 2 % from the jet.")
    return held(ran("S01"), told)


def _tyre() -> Comparison:
    return held(ran("S01"), ran("S02", day=7, sheets=({"tyre_size_rear": 2.0},)))


def _ahead() -> Comparison:
    short = "W6.90 E6.86 W6.85 E6.81"
    return held(ran("S01"), ran("S02", short, sheets=({"exhaust_length": 400.0},)), *MORE)


def _fading() -> Comparison:
    hot = "W7.0 E7.0 W7.0 E7.0 W7.1 E7.1 W7.2 E7.2 W7.5 E7.5 W7.6 E7.6"
    return held(ran("S01"), ran("S02", hot, day=7), *MORE)


def _other_rider() -> Comparison:
    b = ran("S02", day=7, rider="R2")
    sheet = msgspec.structs.replace(
        b.sheets[0], readings={k: v for k, v in b.sheets[0].readings.items() if k != "rider_mass"}
    )
    return held(ran("S01"), msgspec.structs.replace(b, sheets=(sheet,)))


ROWS: dict[str, tuple[str, Callable[[], Comparison], tuple[str, ...]]] = {
    # row of the job: situation, what brings it about, words of its sentence
    "1 several parts": ("several changes", _package, ("both changed", "belongs to the pair")),
    "3 best against average": (
        "best against average", _best,
        ("best improved by 0.32 s", "your average is", "10 attempts against 8", "not compared"),
    ),
    "4 different air": (
        "different air", _hot,
        ("Same build, 0.50 s slower", "hotter, thinner air alone", "about 0.5 s"),
    ),
    "5 two instruments": (
        "mixed timing", _clocks,
        ("hand watch", "satellite logger", "not been run side by side", "0.20 s could be"),
    ),
    "6 one direction": ("one way", _one_way, ("all 6 attempts ran E", "among themselves")),
    "7 n = 1": ("one attempt", _one, ("a story, not a result", "could be", "either way")),
    "8 too few": ("too few", _few, ("Can't tell yet", "anything from", "would settle 0.12 s")),
    "9 null, tight": ("null, tight", _null, ("No difference worth having", "the 0.15 s you said")),
    "10 drift in A-B-A": ("drift", _drift, ("moved by 0.20 s", "more than the part did")),
    "11 hangs on attempts": (
        "hangs on one", _hangs, ("With attempts 9 and 10", "Without: quicker", "after its time"),
    ),
    "12 cannot see": (
        "cannot see", _rockers,
        ("ends at 4,324 rpm", "rocker ratio should act above 4,500", "cannot answer that"),
    ),
    "13 mass differs": (
        "mass differs", _lighter, ("6 kg lighter", "alone is worth about 0.3", "is 0.31 s"),
    ),
    "13 another rider": ("mass differs", _other_rider, ("riders differ", "not both weighed")),
    "14 many looks": ("many looks", _looks, ("9th pair", "one in twenty", "Repeat it")),
    "15 one day each": (
        "days apart", _days, ("only one day each", "day-to-day spread", "not yet a difference"),
    ),
    "forgetting the bad days": ("prediction score", _score, ("5 of 9 went the way you said",)),
    "no revert run": ("no revert run", _no_revert, ("was not run again after S05:B",)),
    "jetting not redone": ("jetting not redone", _jetting, ("jetting did not", "wrong tune")),
    "plug over clock": ("plug over clock", _plug, ("colour of the plug", "not a result")),
    "percent of percent": ("percent of percent", _percent, ("per cent", "do not add up")),
    "speed by tyre size": (
        "speed by tyre size", _tyre, ("circumference is still that of before", "Roll it out"),
    ),
    "stopping when ahead": (
        "stopped ahead", _ahead, ("right after its best pair", "2 pairs against 4 pairs"),
    ),
    "heat fade": ("warm or fading", _fading, ("faded by", "(heat?)", "first third to its last")),
}  # fmt: skip


@pytest.mark.parametrize("row", ROWS)
def test_each_is_recognised_by_itself(row: str) -> None:
    """And answered with a sentence of that content, once."""
    name, make, words = ROWS[row]
    made = make()
    found = [s for s in made.situations if s.id == name]
    assert len(found) == 1, [s.id for s in made.situations]
    for word in words:
        assert word.casefold() in found[0].sentence.casefold()
    if name not in ON_TOP:
        assert made.more.count(found[0].sentence) == 1
    _reads_aloud(made)


def _reads_aloud(made: Comparison) -> None:
    """Every sentence ends with a stop, and holds no jargon and nothing that is no number."""
    for said in (made.sentence, *made.more):
        assert said.endswith((".", "?"))
        for word in ("nan", "None", "inf ", "p-value", "significan", "!", "  ", "-0.00"):
            assert word not in said


def test_2_a_remembered_number_has_no_session_behind_it(tmp_path: Path) -> None:
    """It is a note, and nothing to compare with."""
    book, _ = new_book(tmp_path)
    book.save(ran("S01"))
    with pytest.raises(InputError, match=r"The 6.9 s has no session behind it.*not compare"):
        compare_sessions(book, "6.9 s", "S01")


def test_a_quiet_comparison_has_none_of_them() -> None:
    """One day, one reading, no change: only what the log still lacks is said."""
    made = held(ran("S01", WIDE), ran("S02", WIDE), *MORE)
    assert {s.id for s in made.situations} <= {"too few", "null, tight"}


def test_several_at_once_come_the_weightiest_first() -> None:
    """A cap before the air, the air before the days, and each sentence once."""
    both = ({"engagement_rpm": 2100.0, "final_sprocket_teeth": 60.0},)
    made = held(ran("S01", timing="hand"), ran("S04", sheets=both, day=50, air=(air(50, 34.0),)))
    weights = [s.weight for s in made.situations]
    assert weights == sorted(weights, reverse=True)
    ids = [s.id for s in made.situations]
    assert ids.index("mixed timing") < ids.index("several changes") < ids.index("different air")
    assert made.verdict is Verdict.CANT_TELL
    assert len(set(made.more)) == len(made.more)


def test_the_table_is_in_order_and_named_once() -> None:
    """The weightiest first; every id of its own."""
    weights = [row.weight for row in SITUATIONS]
    assert weights == sorted(weights, reverse=True)
    assert len({row.id for row in SITUATIONS}) == len(SITUATIONS)
