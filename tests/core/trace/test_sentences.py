"""NMEA 0183 recordings: published sentences, a library line by line, and what is left out."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pynmea2
import pytest

from core.errors import InputError
from core.trace.formats.odd_sentences import read_odd
from tests.core.trace.conftest import Read
from tests.core.trace.synthetic import Drive, nmea_text, recorded, season_day, sentence

KNOT = 1852 / 3600


def rmc(second: float, knots: float = 20.0, *, day: str = "120426", status: str = "A") -> str:
    minutes = 0.38 + second * 0.0003
    clock = f"08{int(second) // 60:02d}{second % 60:05.2f}"
    place = f"5200.{round(minutes * 1e4):04d},N,00700.0000,E"
    return sentence(f"GPRMC,{clock},{status},{place},{knots:.2f},000.0,{day},,,A")


def lines(*body: str, end: str = "\r\n") -> str:
    return "".join(line + end for line in body)


def some(count: int = 12) -> list[str]:
    return [rmc(i / 10) for i in range(count)]


# Sentences and the meaning of their fields, as they stand in P. Bennett's and D. DePriest's public
# descriptions of NMEA 0183 (sentences RMC, GGA, VTG).
PUBLISHED = [
    (
        "$GPRMC,225446,A,4916.45,N,12311.12,W,000.5,054.7,191194,020.3,E*68",
        (49 + 16.45 / 60, -(123 + 11.12 / 60), 0.5 * KNOT, 54.7, date(1994, 11, 19), 82486.0),
    ),
    (
        "$GPRMC,081836,A,3751.65,S,14507.36,E,000.0,360.0,130998,011.3,E*62",
        (-(37 + 51.65 / 60), 145 + 7.36 / 60, 0.0, 0.0, date(1998, 9, 13), 29916.0),
    ),
]


@pytest.mark.parametrize(("text", "meaning"), PUBLISHED)
def test_published_sentence_says_what_its_description_says(
    read: Read, text: str, meaning: tuple[float, float, float, float, date, float]
) -> None:
    body = text[1:].partition("*")[0]
    clock = body.split(",")[1]
    others = [sentence(body.replace(clock, str(int(clock) + i))) for i in (1, 2)]
    trace = read(lines(text, *others))
    lat, lon, speed, heading, day, second = meaning
    found = (trace.lat[0], trace.lon[0], trace.speed[0], trace.heading[0])
    assert found == pytest.approx((lat, lon, speed, heading))
    assert (trace.clock.day, trace.clock.second, trace.clock.utc) == (day, second, True)


def test_published_gga_and_vtg_make_rows_together(read: Read) -> None:
    """12:35:19, 48°07.038' N, 11°31.000' E; 054.7° true, 5.5 knots (same descriptions)."""
    gga = "GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,"
    vtg = sentence("GPVTG,054.7,T,034.4,M,005.5,N,010.2,K")
    assert sentence(gga).endswith("*47")
    seconds = [sentence(gga.replace("123519", str(123519 + i))) for i in range(4)]
    trace = read(lines(*(line for gga in seconds for line in (gga, vtg))))
    assert trace.rows == 4
    assert trace.lat[0] == pytest.approx(48 + 7.038 / 60)
    assert trace.speed == pytest.approx(np.full(4, 5.5 * KNOT))
    assert trace.heading[0] == pytest.approx(54.7)
    assert trace.extra["satellites"][0] == 8
    assert [f.kind for f in trace.findings] == ["no date"]


def test_every_row_against_the_library(read: Read) -> None:
    rng = np.random.default_rng(1)
    drive, _ = season_day(1, rng)
    text = nmea_text(*recorded(drive, 5, 0.05, rng), kinds=("GGA", "RMC", "VTG"))
    trace = read(text)
    wanted = [
        message
        for message in (pynmea2.parse(line, check=True) for line in text.splitlines())
        if message.sentence_type == "RMC"
    ]
    assert trace.rows == len(wanted)
    assert trace.lat == pytest.approx(np.array([m.latitude for m in wanted]), abs=1e-10)
    assert trace.lon == pytest.approx(np.array([m.longitude for m in wanted]), abs=1e-10)
    knots = np.array([m.spd_over_grnd for m in wanted])
    assert trace.speed == pytest.approx(knots * KNOT, abs=1e-12)
    moments = [trace.moment(float(t)) for t in trace.t]
    for found, message in zip(moments, wanted, strict=True):
        assert found is not None
        assert abs(found - message.datetime) < timedelta(microseconds=500)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_make_no_difference(read: Read, end: str) -> None:
    trace = read(lines(*some(), "junk", end=end))
    assert trace.rows == 12
    assert [r.line for r in trace.rejected] == [13]


def test_mixed_line_ends_and_empty_lines(read: Read) -> None:
    a, b, c, d = some(4)
    trace = read(f"{a}\n\n{b}\r{c}\r\n\r\nbroken\r{d}")
    assert trace.rows == 4
    assert trace.line.tolist() == [1, 3, 4, 7]
    assert [(r.line, r.reason) for r in trace.rejected] == [(6, "“broken” is no sentence.")]


def test_wrong_checksum_is_left_out_with_both_sums(read: Read) -> None:
    bad = rmc(0.5).replace(",20.00,", ",21.00,")
    trace = read(lines(*some(5), bad, *(rmc(i / 10) for i in range(6, 12))))
    assert trace.rows == 11
    assert trace.reject_counts == {"checksum": 1}
    assert trace.rejected[0].line == 6
    assert "but the sentence gives" in trace.rejected[0].reason


def test_wrong_checksum_on_every_line(read: Read) -> None:
    with pytest.raises(InputError, match="the checksum of 12 lines is wrong"):
        read(lines(*(line.replace(",20.00,", ",21.00,") for line in some())))


def test_no_checksum_is_no_sentence(read: Read) -> None:
    bare = rmc(0.5).partition("*")[0]
    trace = read(lines(*some(5), bare, rmc(0.7)))
    assert trace.reject_counts == {"no checksum": 1}
    with pytest.raises(InputError, match="12 lines without a checksum"):
        read(lines(*(line.partition("*")[0] for line in some())))


def test_status_v_is_refused_and_is_no_fault_of_the_file(read: Read) -> None:
    empty = sentence("GPRMC,080000.00,V,,,,,,,120426,,,N")
    trace = read(lines(empty, rmc(0.1, status="V"), *(rmc(i / 10) for i in range(2, 12))))
    assert trace.rows == 10
    assert trace.reject_counts == {"no fix": 2}
    assert trace.is_clean
    with pytest.raises(InputError, match="the receiver had no position in 5 lines"):
        read(lines(*(rmc(i / 10, status="V") for i in range(5))))


def test_gga_of_quality_zero_is_no_fix(read: Read) -> None:
    def gga(second: int, quality: int) -> str:
        return sentence(
            f"GPGGA,0800{second:02d},5200.0000,N,00700.{second:04d},E,{quality},08,0.9,35,M,47,M,,"
        )

    trace = read(lines(gga(0, 0), *(gga(i, 1) for i in range(1, 6))))
    assert trace.rows == 5
    assert trace.reject_counts == {"no fix": 1}
    assert trace.from_positions


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("5200.38", "52x0.38", "A field cannot be read"),
        ("5200.38", "9200.38", "off the globe"),
        (",120426,", ",320426,", "A field cannot be read"),
        (",20.00,", ",-2.00,", "below zero"),
        (",20.00,", ",2o.00,", "A field cannot be read"),
    ],
)
def test_sound_checksum_on_a_field_that_cannot_be(
    read: Read, old: str, new: str, words: str
) -> None:
    body = rmc(0.0)[1:].partition("*")[0]
    odd = sentence(body.replace(old, new))
    assert odd != rmc(0.0)
    trace = read(lines(odd, *(rmc(i / 10) for i in range(1, 12))))
    assert trace.rows == 11
    assert words in trace.rejected[0].reason


def test_sentence_behind_a_time_stamp_is_taken(read: Read) -> None:
    stamped = [f"10:00:{i:02d} > {rmc(i / 10)}  " for i in range(12)]
    trace = read(lines(*stamped))
    plain = read(lines(*some()))
    assert trace.rows == 12
    assert trace.speed == pytest.approx(plain.speed)
    assert trace.lat == pytest.approx(plain.lat)


def test_two_sentences_run_together_are_left_out() -> None:
    assert "2 sentences run together" in read_odd(rmc(0.0) + rmc(0.1)).reason


def test_other_sentences_are_passed_over(read: Read) -> None:
    others = [sentence("GPGSV,1,1,01,10,63,137,17"), sentence("PUBX,00,1"), sentence("GNZDA,1")]
    trace = read(lines(*others, *some()))
    assert trace.rows == 12
    assert trace.passed_over == 3
    assert trace.rejected_total == 0


def test_cut_off_last_line_is_told(read: Read) -> None:
    trace = read(lines(*some()) + rmc(1.3)[:30])
    assert trace.rows == 12
    assert trace.reject_counts == {"no checksum": 1}
    assert not trace.is_clean


def test_over_midnight(read: Read) -> None:
    drive = Drive()
    drive.launch(4.0)
    rng = np.random.default_rng(2)
    late = datetime(2026, 4, 12, 23, 59, 58, tzinfo=UTC)
    trace = read(nmea_text(*recorded(drive, 10, 0.05, rng), start=late))
    assert trace.rows == 40
    assert trace.t[-1] == pytest.approx(3.9)
    assert trace.moment(3.0) == datetime(2026, 4, 13, 0, 0, 1, tzinfo=UTC)


def test_over_midnight_without_dates(read: Read) -> None:
    """GGA tells no date: the clock that falls back to zero is a day later."""
    drive = Drive()
    drive.launch(4.0)
    rng = np.random.default_rng(2)
    late = datetime(2026, 4, 12, 23, 59, 58, tzinfo=UTC)
    text = nmea_text(*recorded(drive, 10, 0.05, rng), start=late, kinds=("GGA", "VTG"))
    trace = read(text)
    assert trace.t[-1] == pytest.approx(3.9)
    assert trace.clock.day is None
    assert len(trace.parts) == 1
