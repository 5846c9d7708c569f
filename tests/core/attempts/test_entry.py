"""What is typed for one attempt, and what it is taken for."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.attempts import (
    TESTS,
    Command,
    Entered,
    Test,
    find_test,
    read_attempt,
    read_command,
    write_value,
)
from core.errors import (
    AmbiguousInputError,
    BackToBackError,
    InputError,
    NotFoundError,
    OutOfRangeError,
)

STANDING = find_test("0-50")
TOP = find_test("top")
TIMED = [t for t in TESTS if t.unit]


@pytest.mark.parametrize(
    ("typed", "test", "value"),
    [
        ("726", "0-50", 7.26),
        ("426", "0-50", 4.26),
        ("4,26", "0-50", 4.26),
        ("4.26", "0-50", 4.26),
        (" 7.26s ", "0-50", 7.26),
        ("7.26 s", "0-50", 7.26),
        ("7.77", "0-50", 7.77),
        ("777", "0-50", 7.77),
        ("7.263", "0-50", 7.263),
        ("1052", "0-50", 10.52),
        ("952", "80m", 9.52),
        ("1024", "80m", 10.24),
        ("952", "100m", 9.52),
        ("1112", "100m", 11.12),
        ("541", "40-65", 5.41),
        ("1523", "coast-40-15", 15.23),
        ("1:02.4", "hill", 62.4),
        ("1:02,4", "hill", 62.4),
        ("6240", "hill", 62.4),
        ("771", "top", 77.1),
        ("77,1", "top", 77.1),
        ("47", "top", 47.0),
        ("112", "top", 112.0),
        ("30mph", "top", 48.28032),
        ("20 m/s", "top", 72.0),
        ("1.2 min", "hill", 72.0),
    ],
)
def test_the_value_is_read(typed: str, test: str, value: float) -> None:
    entered = read_attempt(typed, find_test(test))
    assert entered.value == pytest.approx(value, abs=1e-9)
    assert entered.text == typed.strip()
    assert entered.kind == "timed"
    assert entered.question is None


@pytest.mark.parametrize(
    ("typed", "choices"),
    [("4260", ("4.26", "42.60")), ("42", ("4.20", "42.00")), ("4", ("4.00",))],
)
def test_digits_without_a_clear_decimal_point_are_asked_about(
    typed: str, choices: tuple[str, ...]
) -> None:
    with pytest.raises(AmbiguousInputError) as caught:
        read_attempt(typed, STANDING)
    assert caught.value.choices == choices
    for choice in choices:  # each choice is unmistakable when typed
        assert read_attempt(choice, STANDING).value == float(choice)


def test_the_same_digits_are_asked_about_although_the_build_is_known() -> None:
    with pytest.raises(AmbiguousInputError):
        read_attempt("4260", STANDING, (4.1, 4.4))
    assert read_attempt("1052", STANDING, (10.2, 10.9)).value == 10.52


def test_a_thousands_separator_is_asked_about() -> None:
    with pytest.raises(AmbiguousInputError) as caught:
        read_attempt("1,234.5", STANDING)
    assert caught.value.choices


@pytest.mark.parametrize(
    ("typed", "usual", "text", "first"),
    [
        ("72.6", (7.1, 7.6), "7.26 or 72.6?", 7.26),
        ("72.6", None, "7.26 or 72.6?", 7.26),
        ("726", (70.0, 75.0), "72.6 or 7.26?", 72.6),
    ],
)
def test_a_slipped_decimal_point_is_asked_about_with_one_key_answers(
    typed: str, usual: tuple[float, float] | None, text: str, first: float
) -> None:
    question = read_attempt(typed, STANDING, usual).question
    assert question is not None
    assert question.text == text
    assert question.choices[0].value == first
    assert {c.value for c in question.choices} == {7.26, 72.6}
    keys = [c.key for c in question.choices]
    assert len(set(keys)) == len(keys)
    assert all(len(key) == 1 for key in keys)


def test_the_range_of_the_build_is_doubled_before_anything_is_asked() -> None:
    assert read_attempt("14.9", STANDING, (7.1, 7.5)).question is None
    assert read_attempt("3.6", STANDING, (7.1, 7.5)).question is None
    assert read_attempt("15.1", STANDING, (7.1, 7.5)).question is not None
    assert read_attempt("3.5", STANDING, (7.1, 7.5)).question is not None


def test_an_unlikely_value_without_a_likely_shift_can_be_kept_or_typed_again() -> None:
    question = read_attempt("17.5", STANDING, (7.1, 7.5)).question
    assert question is not None
    assert [c.value for c in question.choices] == [17.5, None]


def test_minutes_are_never_taken_for_a_slipped_point() -> None:
    question = read_attempt("1:02.4", STANDING, (7.1, 7.5)).question
    assert question is not None
    assert [c.value for c in question.choices] == [62.4, None]


@pytest.mark.parametrize("typed", ["0", "000", "0.00", "-7.26", "−7.26", "-726"])
def test_zero_and_negative_are_refused(typed: str) -> None:
    with pytest.raises(InputError, match="above zero"):
        read_attempt(typed, STANDING)


@pytest.mark.parametrize(
    ("typed", "test", "range_text"),
    [
        ("726s", "0-50", "0.92 to 120 s"),
        ("0.5", "0-50", "0.92 to 120 s"),
        ("5", "top", "15 to 200 km/h"),
        ("300.0", "top", "15 to 200 km/h"),
        ("301.0", "coast-40-15", "0.5 to 300 s"),
        ("11:00", "hill", "1 to 600 s"),
    ],
)
def test_outside_the_hard_range_is_refused_with_the_range(
    typed: str, test: str, range_text: str
) -> None:
    with pytest.raises(OutOfRangeError, match=range_text):
        read_attempt(typed, find_test(test))


@pytest.mark.parametrize("typed", ["30mph", "7.26kg", "7.26 km/h"])
def test_a_unit_of_another_kind_is_refused(typed: str) -> None:
    with pytest.raises(InputError, match="not a unit of a test in s"):
        read_attempt(typed, STANDING)


@pytest.mark.parametrize("typed", ["", "   ", "abc", "nan", "inf", "7:99", "1:2:3", "7..2", "٧٢٦"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    with pytest.raises(InputError):
        read_attempt(typed, STANDING)


def test_minutes_are_no_speed() -> None:
    with pytest.raises(InputError, match="minutes"):
        read_attempt("1:02.4", TOP)


@pytest.mark.parametrize(
    ("typed", "tags", "unsure"),
    [
        ("726 b", ("BOG",), False),
        ("726b", ("BOG",), False),
        ("726 BOG", ("BOG",), False),
        ("726 b p", ("BOG", "SPIN"), False),
        ("726 b b", ("BOG",), False),
        ("726?", (), True),
        ("726 ?", (), True),
        ("726? b", ("BOG",), True),
        ("7.26 s h", ("HOT",), False),
        ("726 m", ("LAUNCH",), False),
        ("726 h", ("HOT",), False),
    ],
)
def test_tags_and_doubt_stand_behind_the_value(
    typed: str, tags: tuple[str, ...], unsure: bool
) -> None:
    entered = read_attempt(typed, STANDING)
    assert (entered.value, entered.tags, entered.unsure) == (7.26, tags, unsure)


def test_tags_go_with_speeds_too() -> None:
    entered = read_attempt("771 f", TOP)
    assert (entered.value, entered.tags) == (77.1, ("FADE",))


@pytest.mark.parametrize("typed", ["726 zz", "1e5", "726 x zz"])
def test_words_that_mean_nothing_are_refused(typed: str) -> None:
    with pytest.raises(NotFoundError) as caught:
        read_attempt(typed, STANDING)
    assert caught.value.hint


def test_a_strike_an_abort_and_a_warm_up_can_be_typed_at_once() -> None:
    assert read_attempt("726 x l", STANDING).strike_code == "LATE"
    assert read_attempt("726 warm", STANDING).kind == "warm-up"
    aborted = read_attempt("abort x h", STANDING)
    assert (aborted.kind, aborted.value, aborted.strike_code) == ("aborted", None, "CHAIN")
    with pytest.raises(InputError, match="reason"):
        read_attempt("726 x", STANDING)


def test_a_plug_run_takes_words() -> None:
    entered = read_attempt(" light tan, base ring clean ", find_test("plug"))
    assert (entered.value, entered.text) == (None, "light tan, base ring clean")


@pytest.mark.parametrize(
    ("typed", "command"),
    [
        ("x l", Command("strike", "LATE")),
        ("xl", Command("strike", "LATE")),
        ("X Late", Command("strike", "LATE")),
        ("x wrong mark", Command("strike", "WRONGMARK")),
        ("x4 h", Command("strike", "CHAIN", 4)),
        ("x 4 chain", Command("strike", "CHAIN", 4)),
        ("x", Command("strike")),
        ("x 4", Command("strike", "", 4)),
        ("u", Command("undo")),
        (".", Command("read back")),
        ("726", None),
        ("abort", None),
        ("", None),
    ],
)
def test_commands_are_told_from_attempts(typed: str, command: Command | None) -> None:
    assert read_command(typed) == command


def test_a_strike_needs_a_known_reason_and_a_real_number() -> None:
    with pytest.raises(NotFoundError):
        read_command("x zz")
    with pytest.raises(OutOfRangeError):
        read_command("x 0 l")


@given(st.sampled_from(TIMED), st.data())
def test_what_is_shown_reads_back_as_the_same_value(test: Test, data: st.DataObject) -> None:
    steps = 10**test.decimals
    first, last = int(test.hard[0] * steps) + 1, int(test.hard[1] * steps)
    value = data.draw(st.integers(first, last)) / steps
    assert read_attempt(write_value(value, test), test).value == pytest.approx(value, abs=1e-9)


@given(st.sampled_from(TIMED), st.data())
def test_bare_digits_of_a_likely_value_mean_that_value(test: Test, data: st.DataObject) -> None:
    steps = 10**test.decimals
    typical = test.typical * steps
    digits = data.draw(st.integers(int(typical * 0.8), int(typical * 1.25)))
    entered = read_attempt(str(digits), test)
    assert entered.value == pytest.approx(digits / steps, abs=1e-9)
    assert entered.question is None


def reading_of(text: str, test: Test) -> Entered | str:
    try:
        read_command(text)
        return read_attempt(text, test)
    except BackToBackError as refusal:
        return str(refusal)


@given(
    st.one_of(st.text(max_size=30), st.text("0123456789.,:? bxlsmph", max_size=12)),
    st.sampled_from(TESTS),
)
def test_any_text_is_either_read_or_refused_in_one_printable_line(text: str, test: Test) -> None:
    found = reading_of(text, test)
    if isinstance(found, str):
        assert found.isprintable()
        assert len(found) < 200
    else:
        assert found.text == text.strip()
        assert found.value is None or test.hard[0] <= found.value <= test.hard[1]
