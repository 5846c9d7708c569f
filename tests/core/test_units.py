"""Typed numbers and units: read, converted, written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import AmbiguousInputError, InputError
from core.units import UNITS, convert, find_unit, format_number, read_number, read_quantity

# Exact factors to SI. Source: NIST SP 811 (2008), appendix B; international yard and pound (1959).
EXACT = [
    ("in", "mm", 25.4),
    ("thou", "mm", 0.0254),
    ("ft", "m", 0.3048),
    ("yd", "m", 0.9144),
    ("mi", "m", 1609.344),
    ("mph", "km/h", 1.609344),
    ("kn", "km/h", 1.852),
    ("lb", "kg", 0.45359237),
    ("lbf", "N", 4.4482216152605),
    ("psi", "kPa", 6.894757293168361),
    ("inHg", "hPa", 33.8638864034),
    ("bar", "kPa", 100.0),
    ("gal", "l", 3.785411784),
    ("hp", "W", 745.6998715822702),
    ("PS", "W", 735.49875),
    ("lbf·ft", "N·m", 1.3558179483314004),
    ("cm³", "ml", 1.0),
]


@pytest.mark.parametrize(("source", "target", "factor"), EXACT)
def test_factor_is_the_published_one(source: str, target: str, factor: float) -> None:
    """Each factor agrees with NIST SP 811 to nine digits."""
    assert convert(1.0, source, target) == pytest.approx(factor, rel=1e-9)


@pytest.mark.parametrize(("f", "c"), [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0)])
def test_temperature_has_an_offset(f: float, c: float) -> None:
    """Fixed points of the two scales. Source: definition of the scales."""
    assert convert(f, "°F", "°C") == pytest.approx(c, abs=1e-9)


def test_every_spelling_finds_one_unit() -> None:
    """No alias is claimed by two units, unless their letter case tells them apart."""
    for unit in UNITS:
        for word in (unit.symbol, *unit.aliases):
            assert find_unit(word).pint == unit.pint, word


@given(st.floats(-1e6, 1e6), st.sampled_from([(s, t) for s, t, _ in EXACT]))
def test_converting_there_and_back(value: float, units: tuple[str, str]) -> None:
    """Conversion is its own inverse."""
    there = convert(value, *units)
    assert convert(there, units[1], units[0]) == pytest.approx(value, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("typed", "value"),
    [("4,26", 4.26), ("4.26", 4.26), ("  .5 ", 0.5), ("+3", 3.0), ("−2", -2.0), ("1e3", 1000.0)],
)
def test_number_is_read(typed: str, value: float) -> None:
    """A comma is a decimal comma."""
    assert read_number(typed) == value


def test_thousands_separator_is_asked_about() -> None:
    """``1,234.5`` has two readings and none is picked."""
    with pytest.raises(AmbiguousInputError) as caught:
        read_number("1,234.5")
    assert caught.value.choices == ("1234.5",)


@pytest.mark.parametrize("typed", ["", "abc", "nan", "inf", "1.2.3", "--1", "1e999", "٣٤x"])
def test_what_is_no_number_is_refused(typed: str) -> None:
    """Refused in one sentence, never read as zero."""
    with pytest.raises(InputError) as caught:
        read_number(typed)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("48 thou", "mm", 1.2192),
        (".048in", "mm", 1.2192),
        ("1.22mm", "mm", 1.22),
        ('0.5"', "mm", 12.7),
        ("30 inHg", "hPa", 1015.916592102),
        ("14 psi", "kPa", 96.52660210436),
        ("30mph", "km/h", 48.28032),
        ("15 ft·lb", "N·m", 20.337269224971),
        ("70 F", "°C", 21.111111111111),
    ],
)
def test_value_carries_its_own_unit(typed: str, unit: str, value: float) -> None:
    """Whatever unit is typed, the field's own unit comes out and the text is kept."""
    got = read_quantity(typed, unit)
    assert got.value == pytest.approx(value, rel=1e-9)
    assert got.text == typed


@pytest.mark.parametrize("typed", ["5 furlongz", "5 kPa", "mm", "5 mm mm"])
def test_wrong_unit_is_refused(typed: str) -> None:
    """An unknown unit, or one of another kind, is a sentence and no number."""
    with pytest.raises(InputError):
        read_quantity(typed, "mm")


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [
        (9.515, 2, "9.52"),
        ((9.53 + 9.495 + 9.52) / 3, 2, "9.52"),
        (-0.001, 2, "0.00"),
        (-1.186, 2, "-1.19"),
        (6500.0, None, "6500"),
        (0.1234567, None, "0.1235"),
        (12345.678, None, "12346"),
    ],
)
def test_number_is_written_as_on_paper(value: float, decimals: int | None, shown: str) -> None:
    """Halves go away from zero and there is no minus zero."""
    assert format_number(value, decimals) == shown


@pytest.mark.parametrize(
    ("text", "unit"),
    [("-600 degF", "°C"), ("-600 degF", "degF"), ("-274", "°C"), ("-1 K", "°C"), ("-300 °C", "K")],
)
def test_nothing_is_colder_than_absolute_zero(text: str, unit: str) -> None:
    """0 K, -273.15 °C and -459.67 °F, by definition."""
    with pytest.raises(InputError, match="absolute zero is"):
        read_quantity(text, unit)


def test_absolute_zero_itself_is_a_temperature() -> None:
    """And what is just above it."""
    assert convert(-459.67, "degF", "K") == pytest.approx(0.0, abs=1e-9)
    assert read_quantity("-273.15", "°C").value == -273.15
