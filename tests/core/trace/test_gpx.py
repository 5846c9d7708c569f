"""GPX tracks: points in order, points rejected with a reason, files that are none."""

from __future__ import annotations

import pytest

from core.errors import InputError
from core.trace import formats

HEAD = '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
TAIL = "</trkseg></trk></gpx>"


def point(lat: str = "51.5", second: str = "00", inside: str = "") -> str:
    time = f"<time>2024-05-04T10:00:{second}Z</time>" if second else ""
    return f'<trkpt lat="{lat}" lon="-0.1">{time}{inside}</trkpt>'


def track(*points: str) -> formats.Track:
    return formats.read_gpx(HEAD + "".join(points) + TAIL)


def test_points_come_in_order_with_their_times() -> None:
    found = track(point("51.5", "00"), point("51.50009", "01"), point("51.50027", "02.200"))
    assert len(found.points) == 3
    assert found.duration == pytest.approx(2.2)
    assert found.length == pytest.approx(30.04, abs=0.01)
    assert not found.has_speed
    assert found.rejected == ()


def test_speed_only_from_somebodys_extension() -> None:
    inside = '<extensions><x:speed xmlns:x="urn:x">4.5</x:speed></extensions>'
    found = track(point(inside=inside), point(second="01"))
    assert [p.speed for p in found.points] == [4.5, None]
    assert found.has_speed


def test_bad_points_are_rejected_with_a_reason() -> None:
    found = track(
        point("51.5", "05"),
        '<trkpt lat="51.5"/>',
        point("x", "06"),
        point("95", "07"),
        point("51.5", "03"),
        point("51.5", "08", "<ele>high</ele>"),
        '<trkpt lat="51.5" lon="0"><time>2024-05-04T10:00:09</time></trkpt>',
        point("51.5", "09"),
    )
    assert len(found.points) == 2
    reasons = dict(found.rejected)
    assert list(reasons) == [2, 3, 4, 5, 6, 7]
    assert reasons[2] == "no latitude or longitude"
    assert "Latitude is 95" in reasons[4]
    assert reasons[5] == "its time runs backward"
    assert reasons[7] == "the time has no zone"


def test_track_without_times_has_no_duration() -> None:
    found = track(point(second=""), point("51.6", second=""))
    assert found.duration is None
    assert found.length > 11_000


def test_length_against_a_library() -> None:
    gpxpy = pytest.importorskip("gpxpy")
    text = HEAD + point("51.5", "00") + point("51.509", "05") + TAIL
    wanted = gpxpy.parse(text).length_2d()
    assert formats.read_gpx(text).length == pytest.approx(wanted, rel=0.006)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "not whole XML"),
        ("<gpx><trk>", "not whole XML"),
        ("<kml/>", "XML but not GPX"),
        ('<!DOCTYPE gpx [<!ENTITY a "b">]><gpx/>', "declarations that no track needs"),
    ],
)
def test_files_that_are_no_track(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        formats.read_gpx(text)
