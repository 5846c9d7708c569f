"""GPX files to rows: both versions, a library, files that break off, and XML that is refused."""

from __future__ import annotations

import gpxpy
import numpy as np
import pytest

from core.errors import InputError
from core.trace.positions import metres
from tests.core.trace.conftest import Read
from tests.core.trace.synthetic import gpx_text, positions, recorded, season_day

HEAD = '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
TAIL = "</trkseg></trk></gpx>"


def point(second: int, inside: str = "", lat: float | str = "") -> str:
    where = lat or f"{52 + second * 1e-5:.6f}"
    time = f"<time>2026-04-12T08:00:{second:02d}Z</time>"
    return f'<trkpt lat="{where}" lon="7.0">{time}{inside}</trkpt>'


def whole(*points: str) -> str:
    return HEAD + "\n".join(points) + TAIL


def drive_text(version: str, *, with_speed: bool = True) -> tuple[str, int]:
    rng = np.random.default_rng(3)
    drive, _ = season_day(1, rng)
    times, speed, heading = recorded(drive, 5, 0.05, rng)
    lat, lon = positions(times, speed, heading)
    told = speed if with_speed else None
    return gpx_text(times, lat, lon, told, version=version), len(times)


@pytest.mark.parametrize("version", ["1.0", "1.1"])
def test_every_point_against_the_library(read: Read, version: str) -> None:
    text, count = drive_text(version)
    trace = read(text)
    wanted = gpxpy.parse(text).tracks[0].segments[0].points
    assert trace.rows == len(wanted) == count
    assert trace.lat.tolist() == [p.latitude for p in wanted]
    assert trace.lon.tolist() == [p.longitude for p in wanted]
    times = [p.time for p in wanted if p.time is not None]
    seconds = np.array([(time - times[0]).total_seconds() for time in times])
    assert trace.t == pytest.approx(seconds, abs=1e-6)
    assert trace.moment(0.0) == times[0]
    assert not trace.from_positions
    if version == "1.0":
        assert trace.speed.tolist() == [p.speed for p in wanted]


def test_without_speed_it_comes_from_the_positions_and_says_so(read: Read) -> None:
    told = read(drive_text("1.1")[0])
    derived = read(drive_text("1.1", with_speed=False)[0])
    assert derived.from_positions
    assert [f.kind for f in derived.findings] == ["from positions"]
    assert "give or take" in derived.findings[0].sentence
    inside = slice(5, -5)
    assert derived.speed[inside] == pytest.approx(told.speed[inside], abs=0.35)


def test_stated_error_of_speeds_from_positions(read: Read) -> None:
    """Central differences of positions that scatter 0.1 m: sigma_p/(sqrt(2) dt) = 0.354 m/s."""
    rng = np.random.default_rng(4)
    times = np.arange(0, 120, 0.2)
    speed, heading = np.full(len(times), 10.0), np.zeros(len(times))
    lat, lon = positions(times, speed, heading)
    lat = lat + rng.normal(0, 0.1, len(times)) / 111_267.0
    trace = read(gpx_text(times, lat, lon))
    assert trace.noise == pytest.approx(0.1 / (np.sqrt(2) * 0.2), rel=0.15)
    assert float(np.std(trace.speed[5:-5] - 10)) == pytest.approx(trace.noise, rel=0.15)


def test_segments_are_parts(read: Read) -> None:
    text = whole(*map(point, range(5)), "</trkseg><trkseg>", *map(point, range(5, 10)))
    trace = read(text)
    assert trace.parts == ((0, 5), (5, 10))


def test_bad_points_are_left_out_with_line_and_reason(read: Read) -> None:
    bad = [
        point(3, lat="x"),
        point(4, lat="95"),
        '<trkpt lat="52.0"/>',
        '<trkpt lat="52.0" lon="7"><time>2026-04-12T08:00:06</time></trkpt>',
        '<trkpt lat="52.0" lon="7"><time>yesterday</time></trkpt>',
        point(8, "<speed>fast</speed>"),
        '<trkpt lat="52.0" lon="7"/>',
    ]
    trace = read(whole(*map(point, range(3)), *bad, *map(point, range(10, 14))))
    assert trace.rows == 7
    assert trace.reject_counts == {"point": 6, "no time": 1}
    assert [r.line for r in trace.rejected] == list(range(4, 11))
    assert trace.rejected[0].reason == "Point 4: the latitude “x” is no number."
    assert "must lie between -90 and 90" in trace.rejected[1].reason


def test_file_that_breaks_off_keeps_the_points_before(read: Read) -> None:
    text = whole(*map(point, range(20)))
    trace = read(text[: len(text) // 2])
    assert 5 <= trace.rows <= 12
    assert [f.kind for f in trace.findings] == ["broken", "from positions"]
    assert "points before that are used" in trace.findings[0].sentence
    assert not trace.is_clean


def bomb(depth: int = 9) -> str:
    """Entities that each name the one before ten times: three thousand million letters."""
    entities = '<!ENTITY a0 "lol">' + "".join(
        f'<!ENTITY a{i} "{f"&a{i - 1};" * 10}">' for i in range(1, depth + 1)
    )
    return f"<?xml version='1.0'?><!DOCTYPE gpx [{entities}]>" + HEAD + f"&a{depth};" + TAIL


EXTERNAL = (
    "<!DOCTYPE gpx [<!ENTITY x SYSTEM 'file:///etc/passwd'>]>"
    + HEAD
    + point(0, "<name>&x;</name>")
    + TAIL
)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (bomb(), "declarations that no track needs"),
        (EXTERNAL, "declarations that no track needs"),
        ("<!DOCTYPE gpx SYSTEM 'http://localhost/x.dtd'>" + whole(point(0)), "declarations"),
        ("<a>" * 100 + "</a>" * 100, "XML but not GPX"),
        (HEAD + "<a>" * 100 + "</a>" * 100 + TAIL, "within each other without end"),
        ('<html xmlns="x"><p>no</p></html>', "XML but not GPX"),
        ("<gpx>", "not whole XML"),
        (whole(), "no track point with a time"),
        (whole('<trkpt lat="52.0" lon="7"/>'), "no track point with a time"),
        (whole(point(0), point(1)), "holds 2 rows that can be used"),
        (HEAD + "<name>" + "x" * 3_000_000 + "</name>" + TAIL, "no track point with a time"),
        (HEAD + '<trkpt lat="' + "1" * 6_000_000 + '"/>' + TAIL, "larger than any track point"),
    ],
    ids=["bomb", "external", "dtd", "html-like", "deep", "html", "stub", "empty", "no time",
         "two points", "long text", "long attribute"],
)  # fmt: skip
def test_what_is_no_track_is_refused_in_one_sentence(read: Read, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words) as refused:
        read(text)
    assert "\n" not in refused.value.message


def test_positions_by_another_road(read: Read) -> None:
    """Metres north and east of `metres` against the distances of GeographicLib (Karney 2013)."""
    from geographiclib.geodesic import Geodesic

    lat = np.array([52.0, 52.001, 52.003])
    lon = np.array([7.0, 7.002, 7.001])
    north, east = metres(lat, lon)
    for i in (1, 2):
        wanted = Geodesic.WGS84.Inverse(52.0, 7.0, lat[i], lon[i])["s12"]
        assert float(np.hypot(north[i], east[i])) == pytest.approx(wanted, rel=1e-5)


def test_step_over_the_date_line_is_short() -> None:
    _, east = metres(np.array([0.0, 0.0]), np.array([179.9999, -179.9999]))
    assert east[1] == pytest.approx(0.0002 * 111_319.49, rel=1e-6)
