"""From typed text to a bench reading: slots, clay in all its states, checks, refusals."""

from __future__ import annotations

import msgspec
import pytest

from core.bench import (
    About,
    BenchReading,
    answer_text,
    rules_filled_by,
    take_check,
    take_clay,
    take_slots,
)
from core.errors import InputError, NotFoundError, OutOfRangeError
from tests.core.bench.readings import about
from tests.core.setup.making import MOTH


def stated(reading: BenchReading) -> dict[str, tuple[str, float | None]]:
    return {slot: (one.state, one.value) for slot, one in reading.readings.items()}


def test_slots_as_the_sheet_takes_them() -> None:
    took = take_slots(
        {"chamber_volume": "22.4 cc", "spring_solid_height": "12.4", "deck": "?"},
        about(note=" three pours ", times=3, condition="cold"),
    )
    assert stated(took.reading) == {
        "chamber_volume": ("measured", 22.4),
        "spring_solid_height": ("measured", 12.4),
        "deck": ("unknown", None),
    }
    assert (took.reading.note, took.reading.times, took.reading.condition) == (
        "three pours", 3, "cold",
    )  # fmt: skip
    assert took.reading.text.startswith("chamber volume 22.4 cc")
    assert take_slots({"lash_intake": "0"}, about()).questions


def test_what_it_hangs_on_is_kept_with_it() -> None:
    took = take_slots({"chamber_volume": "22.4"}, about(sheet=MOTH))
    assert set(took.reading.around) <= {"head", "head_milled", "valves_intake", "valves_exhaust"}
    clay = take_clay("3.1 2.6", about(sheet=MOTH)).reading
    assert clay.around["rocker_ratio"].value == 1.0
    assert clay.around["gasket_thickness"].value == 1.1
    assert "circumference" not in clay.around


@pytest.mark.parametrize(
    ("text", "intake", "exhaust"),
    [
        ("3.1 2.6", ("measured", 3.1), ("measured", 2.6)),
        ("in 3.1 ex 2.6 of 4", ("measured", 3.1), ("measured", 2.6)),
        (">2.0", ("bounded", 2.0), ("bounded", 2.0)),
        ("not touched 2", ("bounded", 2.0), ("bounded", 2.0)),
        ("3.1 >4.0", ("measured", 3.1), ("bounded", 4.0)),
        ("touched", ("unknown", None), ("unknown", None)),
        ("torn 2.6", ("unknown", None), ("measured", 2.6)),
        ("dial 3.10 2.60", ("measured", 3.1), ("measured", 2.6)),
        ("122 thou 102 thou", ("measured", 3.0988), ("measured", 2.5908)),
    ],
)
def test_clay_in_all_its_states(
    text: str, intake: tuple[str, float | None], exhaust: tuple[str, float | None]
) -> None:
    reading = take_clay(text, about(), tight_lift=(1.6, None)).reading
    found = stated(reading)
    assert found["valve_gap_intake"] == intake
    assert found["valve_gap_exhaust"] == exhaust
    assert reading.clay is not None
    assert reading.clay.dial == text.startswith("dial")
    assert reading.clay.intake.tight_lift == 1.6
    method = reading.readings["valve_gap_method"].text
    assert method == ("light springs and dial" if reading.clay.dial else "clay")
    assert reading.text == text


def test_torn_clay_is_never_a_gap_of_zero() -> None:
    reading = take_clay("torn torn", about()).reading
    assert reading.readings["valve_gap_intake"].value is None
    assert "contact" in reading.readings["valve_gap_intake"].text


def test_own_requirement_is_kept_beside() -> None:
    reading = take_clay("3.1 2.6 own 1.5", about()).reading
    assert reading.own == 1.5
    assert stated(reading)["valve_gap_exhaust"] == ("measured", 2.6)


def test_checks_fill_the_slots_they_are_about() -> None:
    assert stated(take_check("lash", "0.10 0.15", about()).reading) == {
        "lash_intake": ("set", 0.10),
        "lash_exhaust": ("set", 0.15),
    }
    assert stated(take_check("piston_to_head", "1.05 own 0.9", about()).reading) == {
        "piston_to_head_gap": ("measured", 1.05)
    }
    margin = take_check("spring_margin", "1.5 own 1.0", about()).reading
    assert (margin.numbers, margin.own, margin.readings) == ((1.5,), 1.0, {})
    assert take_check("valve_to_piston", "3.1 2.6", about()).reading.clay is not None


def test_two_sides_of_the_deck_make_one() -> None:
    """Mean of both sides of the pin axis; the lower of two spring heights: common practice."""
    assert stated(take_check("deck_height", "0.24 0.28", about()).reading) == {
        "deck": ("measured", 0.26)
    }
    assert stated(take_check("spring_height", "21.0 20.8", about()).reading) == {
        "spring_fitted_height": ("measured", 20.8)
    }


def test_which_check_a_reading_answers() -> None:
    assert rules_filled_by(["chamber_volume"]) == ("chamber_volume",)
    assert rules_filled_by(["lash_intake"]) == ()
    assert rules_filled_by(["torque_head"]) == ("head_torque",)
    lash = take_slots({"lash_intake": "4 thou", "lash_exhaust": "6thou"}, about()).reading
    assert answer_text(lash, "lash") == "0.1016 0.1524 mm"
    assert answer_text(lash, "chamber_volume") == ""
    chosen = msgspec.structs.replace(lash, rule="lash_recheck")
    assert answer_text(chosen, "lash_recheck") == "0.1016 0.1524 mm"
    unknown = take_slots({"lash_intake": "?", "lash_exhaust": "0.1"}, about()).reading
    assert answer_text(unknown, "lash") == ""
    assert answer_text(take_check("lash", "0.1 0.15", about()).reading, "lash") == "0.1 0.15"


@pytest.mark.parametrize(
    ("slot", "text", "words"),
    [
        ("chamber_volume", "", "a blank is not a value"),
        ("chamber_volume", "2.25", "out of range"),
        ("bore", "0", "out of range"),
        ("bore", "-70", "out of range"),
        ("lash_intake", "-0.1", "cannot be below zero"),
        ("head", "other", "is picked, not typed"),
    ],
)
def test_slots_that_are_refused(slot: str, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        take_slots({slot: text}, about())


def test_other_refusals() -> None:
    with pytest.raises(InputError, match="a bench reading needs a value"):
        take_slots({}, about())
    with pytest.raises(InputError, match="asks for no measurement"):
        take_check("fuel_leak", "3", about())
    with pytest.raises(NotFoundError):
        take_check("nothing", "3", about())
    with pytest.raises(InputError, match="is not a clay reading"):
        take_clay("soft", about())
    with pytest.raises(InputError, match="A gap of 0 is contact"):
        take_clay("0 2.6", about())
    with pytest.raises(OutOfRangeError):
        take_clay("31 26", about())


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"machine": ""}, "for one machine, or for one loose engine"),
        ({"instrument": "guess"}, "is not an instrument"),
        ({"times": 0}, "one or more"),
        ({"repeatability": -0.1}, "cannot be"),
    ],
)
def test_what_is_told_besides(told: dict[str, object], words: str) -> None:
    with pytest.raises((InputError, NotFoundError), match=words):
        about(**told)
    with pytest.raises(InputError):
        About(id="x", at=about().at, machine="m1", part="p1")
