"""Air readings: typed on one line, pasted reports, doubts about pressure, when they are due."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.attempts import (
    AirReading,
    air_due,
    pressure_question,
    read_air,
    station_pressure,
    usual_pressure,
    wind_beyond,
    wind_note,
)
from core.errors import (
    AmbiguousInputError,
    BackToBackError,
    InputError,
    OutOfRangeError,
    UnknownInputError,
)

SUMMER = timezone(timedelta(hours=2))
NOW = datetime(2026, 4, 12, 12, 20, tzinfo=SUMMER)


def parts(reading: AirReading) -> tuple[object, ...]:
    return (
        reading.temperature,
        reading.pressure,
        reading.humidity,
        reading.wind,
        reading.gust,
        reading.wind_from,
    )


WHOLE = (18.0, 1012.0, 55.0, 0.5, 2.0, "W")


@pytest.mark.parametrize(
    "line",
    [
        "18C 1012hPa 55% 0.5m/s W gust 2",
        "gust 2 55 % W 0.5 m/s 1012 hPa 18 °C",
        "W 0.5 gust 2m/s rh 55 18c 1012mbar",
        "18,0 °C, 101.2 kPa, 55 %, wind W 0.5, gusts 2",
        "temp 18 pressure 1012 humidity 55 wind from west 0.5 m/s gusting 2",
        "1012hPa; 18 deg C; 55%; 270° 0.5m/s; g 2",
        "64.4F 1012 hPa 55% W 0.5 m/s gust 2",
    ],
)
def test_one_line_in_any_order_with_units(line: str) -> None:
    reading = read_air(line, NOW)
    assert parts(reading) == pytest.approx(WHOLE)
    assert (reading.text, reading.observed) == (line, NOW)


def test_every_part_may_be_missing() -> None:
    assert parts(read_air("18C", NOW)) == (18.0, None, None, None, None, "")
    assert parts(read_air("calm", NOW)) == (None, None, None, 0.0, None, "")
    assert parts(read_air("cross 0.5", NOW)) == (None, None, None, 0.5, None, "cross")


def test_the_place_names_its_own_directions() -> None:
    reading = read_air("0.3 m/s back", NOW, directions=("out", "back"))
    assert (reading.wind, reading.wind_from) == (0.3, "back")


def test_other_units_are_turned() -> None:
    reading = read_air("29.92inHg 10 mph gust 20 kts -3C", NOW)
    # factors: NIST SP 811 (2008), appendix B; 29.92 inHg is 1013.2 hPa, 20 kn is 10.2889 m/s
    assert reading.pressure == pytest.approx(1013.2, abs=0.05)
    assert reading.wind == pytest.approx(4.4704)
    assert reading.gust == pytest.approx(10.288889)
    assert reading.temperature == -3.0


def test_a_dew_point_stands_for_the_humidity() -> None:
    reading = read_air("20C dew point 9.255C", NOW)
    # 20 °C and 50 % have a dew point of 9.255 °C: Magnus formula with WMO coefficients
    assert reading.humidity == pytest.approx(50.0, abs=0.1)
    with pytest.raises(UnknownInputError) as caught:
        read_air("dew 9C", NOW)
    assert caught.value.missing == ("temperature",)
    with pytest.raises(InputError):
        read_air("10C dew 12C", NOW)


@pytest.mark.parametrize(
    ("line", "choice"),
    [("29.9 hPa", "29.9inHg"), ("101.2hPa", "101.2kPa"), ("qnh 29.92", "29.92inHg")],
)
def test_inches_or_kilopascals_typed_as_hpa_are_noticed(line: str, choice: str) -> None:
    with pytest.raises(AmbiguousInputError) as caught:
        read_air(line, NOW, elevation=35)
    assert caught.value.choices == (choice,)
    pressure = read_air(choice, NOW).pressure
    assert pressure is not None
    assert 1000 < pressure < 1030


@pytest.mark.parametrize("line", ["18", "18C 1012", "0.5 W"])
def test_a_number_without_a_unit_is_not_guessed(line: str) -> None:
    with pytest.raises(InputError, match="no unit"):
        read_air(line, NOW)


@pytest.mark.parametrize("line", ["65C", "101%", "-1%", "1200hPa", "55m/s", "400°"])
def test_what_no_air_has_is_refused(line: str) -> None:
    with pytest.raises(OutOfRangeError):
        read_air(line, NOW)


@pytest.mark.parametrize(
    "line",
    ["", "  ", "18C 19C", "W 1 E", "gust", "18C blah", "2m/s gust 1", "18C 3kg", "18C \x1b[0m"],
)
def test_what_is_not_understood_is_refused_in_one_line(line: str) -> None:
    with pytest.raises(InputError) as caught:
        read_air(line, NOW)
    assert str(caught.value).isprintable()


REPORT = "METAR ZZZZ 121005Z 27004G12KT 9999 FEW030 18/M02 Q1013 NOSIG"


def test_a_pasted_report_is_never_taken_as_the_pressure_here() -> None:
    with pytest.raises(UnknownInputError) as caught:
        read_air(REPORT, NOW)
    assert caught.value.missing == ("elevation",)


def test_a_pasted_report_with_the_elevation() -> None:
    reading = read_air(REPORT, NOW, elevation=400)
    assert reading.temperature == 18.0
    # 400 m take off about 47 hPa; common practice, no source
    assert reading.pressure == pytest.approx(1013 - 47, abs=1)
    assert (reading.wind, reading.gust) == pytest.approx((4 * 0.514444, 12 * 0.514444), abs=0.01)
    assert reading.wind_from == "W"
    assert reading.humidity == pytest.approx(25.6, abs=0.5)  # vapour over water, -2 in 18 °C
    assert reading.source == "airfield report"
    assert "1013.0 hPa at sea level" in reading.note


def test_the_time_in_a_report_is_when_it_was_observed() -> None:
    reading = read_air(REPORT, NOW, elevation=0)
    assert reading.observed == datetime(2026, 4, 12, 10, 5, tzinfo=UTC)
    assert reading.observed.utcoffset() == timedelta(hours=2)
    assert reading.entered == NOW
    old = read_air(REPORT.replace("121005Z", "311005Z"), NOW, elevation=0)
    assert old.observed == datetime(2026, 3, 31, 10, 5, tzinfo=UTC)
    later = read_air(REPORT.replace("121005Z", "122305Z"), NOW, elevation=0)
    assert later.observed == datetime(2026, 3, 12, 23, 5, tzinfo=UTC)


@pytest.mark.parametrize(
    ("line", "temperature", "pressure", "wind", "wind_from"),
    [
        ("ZZZZ 121005Z VRB02MPS M03/M05 A2992", -3.0, 1013.2, 2.0, ""),
        ("SPECI ZZZZ 121005Z 00000KT 05/04 Q0998", 5.0, 998.0, 0.0, ""),
        ("09010KMH 22/ Q1020 RMK A3012", 22.0, 1020.0, 2.78, "E"),
    ],
)
def test_forms_of_reports(
    line: str, temperature: float, pressure: float, wind: float, wind_from: str
) -> None:
    reading = read_air(line, NOW, elevation=0)
    assert reading.temperature == temperature
    assert reading.pressure == pytest.approx(pressure, abs=0.05)
    assert reading.wind == pytest.approx(wind)
    assert reading.wind_from == wind_from


@pytest.mark.parametrize("line", ["METAR", "METAR ZZZZ NIL", "METAR ZZZZ 992561Z 18/09"])
def test_a_report_without_anything_usable_is_refused(line: str) -> None:
    with pytest.raises(InputError):
        read_air(line, NOW, elevation=0)


def test_a_typed_sea_level_pressure_needs_the_elevation_too() -> None:
    for line in ("qnh 1013", "Q1013", "sea level 1013 hPa"):
        with pytest.raises(UnknownInputError):
            read_air(line, NOW)
        assert read_air(line, NOW, elevation=0).pressure == 1013.0


def test_a_pressure_too_far_from_what_the_elevation_gives_is_asked_about() -> None:
    question = pressure_question(1013.0, 400.0)
    assert question is not None
    assert "4.9 % above" in question.text
    values = [c.value for c in question.choices]
    assert values[0] == pytest.approx(station_pressure(1013, 400), abs=0.05)
    assert values[1:] == [1013.0, None]
    assert pressure_question(966.0, 400.0) is None
    assert pressure_question(1013.0, None) is None
    assert pressure_question(None, 400.0) is None


def test_the_limit_of_the_question_is_one_and_a_half_percent() -> None:
    usual = usual_pressure(200)
    assert pressure_question(usual * 1.0149, 200) is None
    assert pressure_question(usual * 1.0151, 200) is not None
    assert pressure_question(usual * 0.9849, 200) is not None


def test_a_low_pressure_is_not_offered_as_reduced() -> None:
    question = pressure_question(950.0, 400.0)
    assert question is not None
    assert [c.value for c in question.choices] == [950.0, None]


def test_usual_pressure_of_an_elevation() -> None:
    # ISO 2533:1975, standard atmosphere, tables
    assert usual_pressure(0) == pytest.approx(1013.25)
    assert usual_pressure(500) == pytest.approx(954.608, abs=0.01)
    assert usual_pressure(1000) == pytest.approx(898.746, abs=0.01)


def reading(minutes_ago: float, wind: float | None = None, gust: float | None = None) -> AirReading:
    return AirReading(observed=NOW - timedelta(minutes=minutes_ago), wind=wind, gust=gust)


def test_air_is_asked_for_again_after_45_minutes() -> None:
    assert air_due([], NOW).state == "missing"
    assert air_due([reading(45)], NOW).state == "fresh"
    assert air_due([reading(45.1)], NOW).state == "stale"
    assert air_due([reading(200), reading(10)], NOW).state == "fresh"
    assert air_due([reading(10)], NOW, timedelta(minutes=5)).state == "stale"
    assert air_due([reading(-5)], NOW).age == timedelta(0)


def test_the_time_of_observation_counts_and_not_that_of_typing() -> None:
    typed_late = AirReading(observed=NOW - timedelta(hours=3), entered=NOW)
    assert air_due([typed_late], NOW).state == "stale"


def test_readings_are_ordered_by_utc_over_a_clock_change() -> None:
    before = datetime(2026, 10, 25, 2, 50, tzinfo=SUMMER)
    after = datetime(2026, 10, 25, 2, 10, tzinfo=timezone(timedelta(hours=1)))
    due = air_due([AirReading(observed=before)], after)
    assert due.age == timedelta(minutes=20)


@pytest.mark.parametrize(
    ("wind", "gust", "beyond"),
    [(3.0, 5.0, False), (3.1, None, True), (1.0, 5.1, True), (None, None, False)],
)
def test_wind_beyond_comparing(wind: float | None, gust: float | None, beyond: bool) -> None:
    assert wind_beyond(reading(0, wind, gust)) is beyond
    assert bool(wind_note([reading(0, wind, gust), reading(9, 0.5)])) is beyond


def refusal_of(text: str) -> str | None:
    try:
        found = read_air(text, NOW)
    except BackToBackError as refusal:
        return str(refusal)
    return None if found.text == text.strip() else "the text as typed was lost"


@given(st.one_of(st.text(max_size=40), st.text("0123456789. CFhPamsWEgust%/", max_size=20)))
def test_any_text_is_read_or_refused_in_one_printable_line(text: str) -> None:
    refusal = refusal_of(text)
    assert refusal is None or (refusal.isprintable() and "lost" not in refusal)
