"""Numbers with ranges as they are typed, and everything that is refused in one sentence."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import AmbiguousInputError, BackToBackError, InputError, UsageError
from core.reckon import reckon
from core.reckon.two_columns import read_curve, read_trace
from core.reckon.typed import read_ranged
from core.units import convert
from tests.core.reckon.cases import CURVE, LIFTS

RATIO = {
    "bore": "70", "stroke": "54", "chamber": "22.5", "gasket": "1.1", "gasket-bore": "71",
    "deck": "0.25",
}  # fmt: skip
AIR = {"temperature": "20", "pressure": "1013", "humidity": "50"}


@pytest.mark.parametrize(
    ("text", "low", "value", "high"),
    [
        ("22.5", 22.5, 22.5, 22.5),
        ("22,5 cc", 22.5, 22.5, 22.5),
        ("22.5+-0.2", 22.3, 22.5, 22.7),
        ("22.5 ± 0.2 cc", 22.3, 22.5, 22.7),
        ("22.5 cc +/- 200 mm3", 22.3, 22.5, 22.7),
        ("22.3..22.7", 22.3, 22.5, 22.7),
        ("22.3 … 22.7 cm³", 22.3, 22.5, 22.7),
        ("-3.5..-2.5", -3.5, -3.0, -2.5),
        ("−1+−0.5", -1.5, -1.0, -0.5),
        ("0.0225 l", 22.5, 22.5, 22.5),
        ("22.5+-0", 22.5, 22.5, 22.5),
    ],
)
def test_ranges_as_they_are_typed(text: str, low: float, value: float, high: float) -> None:
    found = read_ranged(text, "cm³")
    assert (found.low, found.value, found.high) == pytest.approx((low, value, high))


def test_a_give_or_take_of_a_temperature_is_a_difference() -> None:
    found = read_ranged("68+-1.8 °F", "°C")
    assert (found.low, found.value, found.high) == pytest.approx((19.0, 20.0, 21.0))


@given(st.floats(0.001, 500), st.floats(0, 0.2), st.sampled_from(["mm", "thou", "in", "cm"]))
def test_what_is_written_with_a_range_reads_back(value: float, share: float, unit: str) -> None:
    half = value * share
    found = read_ranged(f"{value:.9f}+-{half:.9f} {unit}", "mm")
    assert found.value == pytest.approx(convert(round(value, 9), unit, "mm"), rel=1e-9)
    width = convert(round(half, 9), unit, "mm")
    assert found.high - found.low == pytest.approx(2 * width, abs=1e-9 * (1 + found.value))
    ends = read_ranged(f"{value:.9f}..{value + half:.9f}{unit}", "mm")
    assert ends.low <= ends.value <= ends.high


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "a blank is not a value"),
        ("abc", "is not a number"),
        ("22.7..22.3", "runs downward"),
        ("22.5+--0.2", "is below zero"),
        ("22.5 kg", "kg cannot be turned into cm³"),
        ("22.5 wibbles", "is not a unit I know"),
        (">3", "is a bound or an estimate"),
        ("~3", "is a bound or an estimate"),
        ("1e400", "is not a number"),
        ("22.5+-", "is not a number"),
        ("..", "is not a number"),
    ],
)
def test_numbers_that_are_none(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_ranged(text, "cm³")


def test_a_comma_that_may_part_thousands_is_asked_about() -> None:
    with pytest.raises(AmbiguousInputError, match=r"is it 6500 or 6\.500") as caught:
        reckon("rod-load", {"rpm": "6,500"})
    assert caught.value.choices == ("6500", "6.500")
    assert caught.value.message.startswith("Engine speed: ")


def test_a_decimal_comma_is_one() -> None:
    assert reckon("head-gap", {"deck": "0,25", "gasket": "1,1"}, exact=True).words == "1.35 mm"


BAD = [
    # the rows of bad input: formula, what was typed, the sentence
    ("swept-volume", {"bore": "0", "stroke": "54"}, "Bore is 0 mm: a bore must be above zero."),
    ("swept-volume", {"bore": "-70", "stroke": "54"}, "Bore is -70 mm: a bore must be above zero."),
    ("compression-ratio", RATIO | {"deck": "-9"}, "nothing is left above the piston"),
    ("piston-travel", {"angle": "90", "stroke": "54", "rod": "26"}, "or the crank cannot turn."),
    ("peak-piston-speed", {"stroke": "54", "rod": "20", "rpm": "3600"}, "cannot turn"),
    ("air-density", AIR | {"humidity": "101"}, "Relative humidity is 101 %"),
    ("air-density", AIR | {"humidity": "-1"}, "Relative humidity is -1 %"),
    ("dew-point", {"temperature": "20", "humidity": "0"}, "dry air has no dew point"),
    ("humidity", {"temperature": "20", "dew-point": "25"}, "cannot lie above the air temperature"),
    ("air-density", AIR | {"pressure": "29.92"}, "that looks like inHg typed as hPa"),
    ("air-density", AIR | {"pressure": "29.92 kPa"}, "that looks like inHg typed as kPa"),
    ("duration", {"table": "0;0\n10;2\n20;1\n30;2\n40;0", "checking-lift": "1"},
     "a lobe must rise and fall once"),
    ("duration", {"table": "0;0\n10;2\n5;1\n40;0", "checking-lift": "1"}, "angles must increase"),
    ("duration", {"table": LIFTS, "checking-lift": "2"}, "is not below the highest lift"),
    ("duration", {"table": "0;1\n10;2\n20;1\n30;0.5", "checking-lift": "0.4"},
     "does not pass 0.4 mm on the way up"),
    ("duration", {"table": LIFTS + "\noops", "checking-lift": "1"}, "line 7 is no row"),
    ("duration", {"table": "a;b", "checking-lift": "1"}, "0 rows"),
    ("duration-difference",
     {"duration-a": "232", "lift-a": "1.27", "duration-b": "240", "lift-b": "1.0"},
     "they cannot be compared"),
    ("duration-difference",
     {"duration-a": "232", "lift-a": "1.27", "duration-b": "240", "lift-b": "1.27",
      "at-a": "lobe"}, "they cannot be compared"),
    ("link-count", {"links": "105"}, "an odd chain closes only with a half link"),
    ("link-count", {"links": "105.5"}, "whole links"),
    ("overall-ratio", {"stages": "0/60"}, "must be above zero"),
    ("overall-ratio", {"stages": "twelve"}, "is not two tooth counts"),
    ("sprocket-table", {"drivers": "a", "driven": "60", "circumference": "1", "trap-speed": "50",
                        "limit": "6500", "run-out": "?"}, "is not a list of tooth counts"),
    ("pitch-diameter", {"pitch": "12.7", "teeth": "12.5"}, "is not a whole number"),
    ("spring-margin", {"fitted": "12", "solid": "21", "lift": "7"}, "check which is which"),
    ("clay-projection", {"clay": "0", "rocker-ratio": "1", "lobe-lift": "6"},
     "must be above zero"),
    ("clay-projection", {"clay": ">", "rocker-ratio": "1", "lobe-lift": "6"}, "how thick"),
    ("power-factor", AIR | {"standard": "bogus"}, "is none of SAE J1349, ISO 1585, DIN 70020"),
    ("coast-time", {"mass": "150", "f0": "35", "f2": "0.4", "start": "20", "end": "40"},
     "a machine that coasts slows down"),
    ("full-speed", {"curve": "1800:11 1700:12", "ratio": "6", "circumference": "1",
                    "engagement": "2000", "mass": "150", "rolling": "0.02", "drag-area": "0.7"},
     "speeds must rise"),
]  # fmt: skip


@pytest.mark.parametrize(("formula", "typed", "words"), BAD)
def test_bad_input_is_one_sentence(formula: str, typed: dict[str, str], words: str) -> None:
    for exact in (True, False):
        with pytest.raises(InputError) as caught:
            reckon(formula, typed, exact=exact)
        assert words in caught.value.message
        assert "\n" not in caught.value.message
        assert caught.value.exit_code == 1


def test_a_range_whose_end_is_refused_is_refused() -> None:
    with pytest.raises(InputError, match="Relative humidity is 102 %"):
        reckon("air-density", AIR | {"humidity": "99+-3"})


def test_the_usual_doubt_stops_where_a_value_ends() -> None:
    """99 % by a hygrometer may be 96 to 102 %, of which the last two cannot be."""
    answer = reckon("vapour-pressure", {"temperature": "20", "humidity": "99"})
    given = next(one for one in answer.inputs if one.input.name == "humidity")
    assert given.ranged is not None
    assert (given.ranged.low, given.ranged.high) == pytest.approx((95.99, 100.0), abs=0.02)
    assert answer.results[0].value is not None
    assert answer.results[0].value.high > answer.results[0].value.value


def test_a_usual_doubt_that_would_be_refused_costs_only_the_range() -> None:
    """A dew point equal to the temperature is fog; half a degree more would be refused."""
    answer = reckon("humidity", {"temperature": "20", "dew-point": "20"})
    assert answer.results[0].value is not None
    assert answer.results[0].value.is_exact
    assert answer.results[0].words == "100.0%"
    assert any("without a range" in note for note in answer.notes)


@pytest.mark.parametrize(
    ("formula", "typed", "missing"),
    [
        ("head-gap", {"deck": "?", "gasket": "1.1"}, ("deck",)),
        ("head-gap", {"gasket": "unknown"}, ("deck", "gasket thickness")),
        ("compression-ratio", RATIO | {"crown": "?"}, ("crown volume",)),
        ("duration", {"table": "?", "checking-lift": "1"}, ("lift table",)),
        ("clay-projection", {"clay": "touched", "rocker-ratio": "1", "lobe-lift": "6"},
         ("thinnest clay",)),
        ("clay-projection", {"clay": "torn", "rocker-ratio": "1", "lobe-lift": "6"},
         ("thinnest clay",)),
        ("clay-projection", {"clay": "3", "rocker-ratio": "1", "table": LIFTS}, ("stroke", "rod")),
        ("clay-projection", {"clay": "3", "rocker-ratio": "1"}, ("lobe lift",)),
        ("clay-projection", {"clay": "3", "rocker-ratio": "1", "lobe-lift": "6",
                             "new-advance": "4"}, ("lift table",)),
        ("full-speed", {"curve": "1800:11 2200:12", "ratio": "6", "circumference": "1",
                        "engagement": "2000", "mass": "150", "rolling": "0", "drag-area": "0.1"},
         ("torque curve",)),
    ],
)  # fmt: skip
def test_unknown_in_unknown_out(
    formula: str, typed: dict[str, str], missing: tuple[str, ...]
) -> None:
    answer = reckon(formula, typed)
    assert not answer.known
    assert answer.results == ()
    assert answer.missing == missing
    assert answer.words.startswith("Unknown")
    assert not re.search(r"\d\.\d", answer.words)


def test_clay_that_was_not_touched_gives_a_bound_and_no_upper_value() -> None:
    typed = {"clay": ">4", "rocker-ratio": "1", "new-rocker-ratio": "1.25", "lobe-lift": "6"}
    answer = reckon("clay-projection", typed)
    found = {one.output.name: one.value for one in answer.results}
    assert found["gap"] is None
    assert found["optimistic"] is None
    assert found["guaranteed"] is not None
    assert found["guaranteed"].value == pytest.approx(2.5)
    assert "at least 2.50 mm" in answer.notes[0]


def test_an_unknown_limit_counts_and_is_said_aloud() -> None:
    answer = reckon("lowest-limit", {"rod": "6500", "clutch": "?"})
    assert answer.words == "3,600 rpm"
    assert "Not entered, counted as 3,600: flywheel, valve train, clutch." in answer.notes


@pytest.mark.parametrize("typed", [{"bor": "70"}, {"gasket_bor": "1"}, {"": "1"}])
def test_a_key_that_is_no_input(typed: dict[str, str]) -> None:
    with pytest.raises(UsageError, match="has no input") as caught:
        reckon("compression-ratio", typed)
    assert "bore" in caught.value.hint
    assert caught.value.exit_code == 2


def test_names_of_slots_are_names_of_inputs() -> None:
    slots = {
        "bore": "70", "stroke": "54", "chamber_volume": "22.5", "gasket thickness": "1.1",
        "GASKET_BORE": "71", "deck": "0.25",
    }  # fmt: skip
    assert reckon("compression-ratio", slots).words == reckon("compression-ratio", RATIO).words
    with pytest.raises(UsageError, match="given twice"):
        reckon("compression-ratio", RATIO | {"chamber_volume": "22.5"})


def said(text: str) -> str:
    """Return what comes of a text as a deck: an answer or a refusal."""
    try:
        return reckon("head-gap", {"deck": text, "gasket": "1.1"}).words
    except BackToBackError as error:
        return error.message


@given(st.text(max_size=40) | st.text("0123456789.,+-±/eE mcin?", max_size=12))
def test_any_text_ends_in_a_plain_sentence(text: str) -> None:
    words = said(text)
    assert words
    assert words.isprintable()
    assert "nan" not in words
    assert "inf" not in words.split()


def test_rows_of_two_numbers() -> None:
    assert read_curve("rpm;N·m\n1800; 11,0\n2200; 11,8\n") == ((1800, 2200), (11.0, 11.8))
    assert read_curve("# a note\n1800 11\n\n2200, 11.8") == ((1800, 2200), (11.0, 11.8))
    assert read_curve(CURVE)[1][0] == 11.0
    times, speeds = read_trace("s,km/h\n0,36\n1,18")
    assert times == (0.0, 1.0)
    assert speeds == pytest.approx((10.0, 5.0))
    for bad in ("", "words only", "1800;11\noops", "1800;11;12"):
        with pytest.raises(InputError):
            read_curve(bad)
