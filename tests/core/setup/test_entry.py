"""Typed values: taken silently, asked about, refused with a sentence, never guessed."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.errors import AmbiguousInputError, BackToBackError, InputError, OutOfRangeError
from core.setup import SLOTS, Reading, Slot, State, find_slot, read_reading, reading_words
from core.setup.readings import Bound
from core.units import convert
from tests.core.setup.making import NOON

_NUMBERS = [slot for slot in SLOTS.values() if slot.kind == "number" and not slot.steps]


def read(slot: str, text: str) -> Reading:
    return read_reading(find_slot(slot), text, NOON).reading


@pytest.mark.parametrize(
    ("slot", "text", "value", "state"),
    [
        ("gasket thickness", "1.1", 1.1, "measured"),
        ("gasket thickness", " 1,1 ", 1.1, "measured"),
        ("gasket thickness", "48 thou", 1.2192, "measured"),
        ("gasket thickness", ".048in", 1.2192, "measured"),
        ("gasket thickness", "~1.1", 1.1, "estimated"),
        ("gasket thickness", "1.1 est", 1.1, "estimated"),
        ("gasket thickness", "1.1 mm stated", 1.1, "stated"),
        ("deck", "−0.25", -0.25, "measured"),
        ("deck", "-0.25", -0.25, "measured"),
        ("rod limit", "6500", 6500, "stated"),
        ("rod limit", "6500 stated", 6500, "stated"),
        ("intake lash", ".004in", 0.1016, "set"),
        ("intake lash", "0.1 measured", 0.1, "measured"),
        ("rear pressure", "24psi", 165.474175, "set"),
        ("machine mass", "139 lb", 63.04933945, "measured"),
        ("head torque", "18 ft·lb", 24.40472306, "set"),
        ("seat load", "18 lbf", 80.06798907, "measured"),
        ("circumference", "1060mm", 1.06, "measured"),
        ("lash_head_temperature", "68 F", 20, "measured"),
        ("final teeth", "66T", 66, "measured"),
        ("final teeth", "66 teeth", 66, "measured"),
        ("chain links", "104 links", 104, "measured"),
        ("rocker ratio", "1.25:1", 1.25, "set"),
        ("idle mixture", "1.5 turns", 1.5, "set"),
        ("chain pitch", "0.5 in", 12.7, "set"),
        ("chain pitch", "7.77", 7.774, "set"),
    ],
)
def test_usual_values_are_taken_silently(slot: str, text: str, value: float, state: State) -> None:
    # factors from NIST SP 811 (2008), appendix B: in 25.4 mm, lb 0.45359237 kg, lbf 4.4482216 N,
    # psi 6.894757 kPa, lbf·ft 1.3558179 N·m (from memory)
    entered = read_reading(find_slot(slot), text, NOON)
    assert entered.question == ""
    assert entered.band == "typical"
    reading = entered.reading
    assert reading.value == pytest.approx(value, rel=1e-7)
    assert (reading.state, reading.text, reading.at) == (state, text.strip(), NOON)


@pytest.mark.parametrize(
    ("text", "value", "bound"), [(">2.0", 2.0, ">"), ("> 3", 3.0, ">"), ("<0.5 mm", 0.5, "<")]
)
def test_bounds_are_kept_as_bounds(text: str, value: float, bound: Bound) -> None:
    reading = read("intake clay", text)
    assert (reading.state, reading.value, reading.bound) == ("bounded", value, bound)


@pytest.mark.parametrize(("text", "state"), [("?", "unknown"), ("-", "not fitted")])
@pytest.mark.parametrize("slot", ["rod limit", "rod", "governor", "main jet", "own:seat foam"])
def test_unknown_and_not_fitted_work_everywhere(slot: str, text: str, state: State) -> None:
    reading = read(slot, text)
    assert (reading.state, reading.value, reading.part) == (state, None, "")


@pytest.mark.parametrize("text", ["", "   ", "\t\n"])
@pytest.mark.parametrize("slot", ["bore", "rod", "governor", "main jet", "oil grade"])
def test_a_blank_is_never_a_value(slot: str, text: str) -> None:
    with pytest.raises(InputError, match="blank is not a value"):
        read(slot, text)


@pytest.mark.parametrize(
    ("slot", "text", "question"),
    [
        (
            "gasket thickness",
            "0.11",
            "0.11 mm is outside the usual 0.25 to 1.6 mm for head gasket thickness, crushed: sure? "
            "(1.1 mm would be usual)",
        ),
        (
            "rear pressure",
            "24",
            "24 kPa is outside the usual 80 to 200 kPa for rear pressure, cold: sure? "
            "(24 psi would be 165 kPa)",
        ),
        ("intake lash", "0", "0 means held open when hot: sure?"),
        ("exhaust lash", "0.00 mm", "0 means held open when hot: sure?"),
        ("chain links", "105", "An odd number of links needs a half-link: sure?"),
        ("throttle springs", "1", "1 spring is not the usual 2 for throttle return springs: sure?"),
        (
            "planned rpm",
            "7500",
            "7,500 rpm is outside the usual 3,600 to 7,000 rpm for planned max rpm: sure?",
        ),
        (
            "main jet",
            "130 x100mm",
            "130 x100mm is outside the usual 65 to 125 x100mm for main jet: sure?",
        ),
    ],
)
def test_unusual_values_are_taken_with_a_question(slot: str, text: str, question: str) -> None:
    entered = read_reading(find_slot(slot), text, NOON)
    assert (entered.band, entered.question) == ("unusual", question)


@pytest.mark.parametrize(
    ("slot", "text", "sentence"),
    [
        (
            "intake lash",
            "4",
            "Intake lash 4 mm is out of range (0 to 0.6 mm); 4 thou (0.004 in) would be 0.10 mm.",
        ),
        ("intake lash", "-0.05", "Intake lash is -0.05 mm: it cannot be below zero."),
        (
            "gasket thickness",
            "11",
            "Head gasket thickness, crushed 11 mm is out of range (0 to 3 mm); "
            "11 thou (0.011 in) would be 0.28 mm; 1.1 mm would be usual.",
        ),
        ("final teeth", "0", "Final sprocket teeth 0T is out of range (10 to 120T)."),
        ("bore", "7", "Bore 7 mm is out of range (60 to 80 mm); 70 mm would be usual."),
        ("bore", "7 in", "Bore 177.8 mm is out of range (60 to 80 mm)."),
        ("rocker ratio", "5", "Rocker ratio 5:1 is out of range (0.7 to 2:1)."),
        ("chain pitch", "13", "Chain pitch 13 mm is not one of 6.35, 7.774, 9.525, 12.7, 15.875."),
        ("main jet", "1000 flow", "Main jet 1000 flow is out of range: 20 to 400 flow."),
        ("circumference", "1060", "Driven rolling circumference, with rider 1060 m is out of range "
         "(0.4 to 2.5 m); 1060 mm would be 1.060 m."),
    ],
)  # fmt: skip
def test_absurd_values_are_refused_with_an_offer(slot: str, text: str, sentence: str) -> None:
    with pytest.raises(OutOfRangeError) as refusal:
        read(slot, text)
    assert refusal.value.message == sentence


@pytest.mark.parametrize(
    ("slot", "text", "choices"),
    [
        ("rod limit", "6,500", ("6500",)),
        ("rod limit", "6,500 rpm", ("6500 rpm",)),
        ("block hours", "1,500", ("1500", "1.500")),
        ("bore", "1,234.5", ("1234.5",)),
        ("fuel kind", "e", ("ethanol blend", "ethanol")),
    ],
)
def test_two_ways_to_read_it_are_asked_about(
    slot: str, text: str, choices: tuple[str, ...]
) -> None:
    with pytest.raises(AmbiguousInputError) as question:
        read(slot, text)
    assert question.value.choices == choices


@pytest.mark.parametrize(
    ("slot", "text", "value"),
    [("rocker ratio", "1,250", 1.25), ("rocker ratio", "1,25", 1.25), ("coil gap", "0,250", 0.25)],
)
def test_a_decimal_comma_is_one_where_nothing_else_fits(slot: str, text: str, value: float) -> None:
    assert read(slot, text).value == value


@pytest.mark.parametrize(
    ("slot", "text", "match"),
    [
        ("bore", "abc", "is not a number"),
        ("bore", "nan", "is not a number"),
        ("bore", "1e999", "is not a number"),
        ("bore", "70 furlong", "not a unit"),
        ("bore", "70 kg", "cannot be turned into"),
        ("bore", ">70 stated", "two things"),
        ("final teeth", "60.5", "only whole numbers"),
        ("final teeth", "60 mm", "counted in teeth"),
        ("final teeth", "60 links", "counted in teeth"),
        ("governor", "x", "active, held, removed"),
        ("carb", "big one", "picked, not typed"),
    ],
)
def test_what_makes_no_sense_is_refused(slot: str, text: str, match: str) -> None:
    with pytest.raises(InputError, match=match):
        read(slot, text)


@pytest.mark.parametrize(
    ("text", "choice"), [("removed", "removed"), ("REM", "removed"), ("h", "held"), ("a", "active")]
)
def test_a_choice_needs_only_its_first_letters(text: str, choice: str) -> None:
    assert read("governor", text).text == choice


@pytest.mark.parametrize(
    "text", ["=1+1", "10W-30", "Größe 名\u202e", "line\nbreak", "x" * 5000, "[/b] \x1b[31m"]
)
def test_words_are_kept_as_typed(text: str) -> None:
    assert read("oil grade", text).text == text
    assert reading_words(find_slot("oil grade"), read("oil grade", text)) == text


@given(st.sampled_from(_NUMBERS), st.floats(0, 1))
def test_everything_in_the_usual_range_is_silent(slot: Slot, share: float) -> None:
    low, high = slot.typical or slot.hard or (0.0, 0.0)
    value = round(low + share * (high - low), 0 if slot.whole else 4)
    if slot.at_odd or (slot.at_zero and value == 0) or not low <= value <= high:
        return
    entered = read_reading(slot, f"{value:f}", NOON)
    assert entered.question == ""
    assert entered.reading.value == value


@given(st.sampled_from(_NUMBERS), st.floats(0.01, 1e6), st.booleans())
@example(SLOTS["lash_head_temperature"], 254.0, False)
def test_everything_outside_the_hard_range_is_refused(
    slot: Slot, beyond: float, above: bool
) -> None:
    assert slot.hard is not None
    value = slot.hard[1] + beyond if above else slot.hard[0] - beyond
    text = f"{round(value) if slot.whole else value:f}"
    if slot.hard[0] <= float(text) <= slot.hard[1]:
        return
    is_colder_than_anything = slot.unit == "°C" and float(text) < -273.15
    with pytest.raises(InputError if is_colder_than_anything else OutOfRangeError):
        read_reading(slot, text, NOON)


@given(
    st.sampled_from(["bore", "deck", "stroke"]), st.floats(0, 1), st.sampled_from(["in", "thou"])
)
def test_a_unit_typed_comes_to_the_same(name: str, share: float, unit: str) -> None:
    slot = SLOTS[name]
    assert slot.typical is not None
    low, high = slot.typical
    mm = low + (high - low) * (0.05 + 0.9 * share)
    typed = convert(mm, "mm", unit)
    reading = read_reading(slot, f"{typed:f}{unit}", NOON).reading
    assert reading.value == pytest.approx(mm, abs=2e-5)
    assert unit in reading_words(slot, reading)


@given(st.sampled_from(list(SLOTS.values())), st.text(max_size=40))
def test_anything_typed_is_taken_or_refused_in_one_sentence(slot: Slot, text: str) -> None:
    refusal = ""
    try:
        read_reading(slot, text, NOON)
    except BackToBackError as refused:
        refusal = refused.message
    assert refusal.isprintable()
    assert len(refusal) < 250
