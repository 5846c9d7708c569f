"""Opening a recording in the app: paths, columns asked for once, files that are none, stopping."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from tests.core.trace.synthetic import csv_text, recorded, season_day
from tests.tui.trace.desk import BEFORE, demo_recording, documents, open_file, shown, with_recording
from tui.screens.session import SessionScreen
from tui.screens.trace.path_drawer import completed


def table(folder: Path, name: str = "ride.csv", header: str = "Time (s),V1") -> Path:
    """A recording as a table, with a column of speeds whose unit is not told."""
    rng = np.random.default_rng(3)
    times, speed, _ = recorded(season_day(2, rng)[0], 10, 0.05, rng)
    path = folder / name
    path.write_text(csv_text(times, speed, header=header))
    return path


def miles(folder: Path) -> Path:
    """Kilometres per hour in a column called mph, where the positions tell."""
    rng = np.random.default_rng(3)
    times, speed, _ = recorded(season_day(2, rng)[0], 10, 0.05, rng)
    east = -30 + np.cumsum(speed) * 0.1 / 75_900  # m in one degree there, about
    rows = zip(times.tolist(), (speed * 3.6).tolist(), east.tolist(), strict=True)
    file = folder / "odd.csv"
    body = "".join(f"{t:.1f},{v:.2f},47.0,{x:.8f}\n" for t, v, x in rows)
    file.write_text(f"Time (s),Speed (mph),Lat,Lon\n{body}")
    return file


async def test_columns_are_asked_for_once(season: Path, tmp_path: Path) -> None:
    async with with_recording(season, table(tmp_path)) as strip:
        assert "No column can be the speed" in strip.flat
        await strip.type_in("time=1,speed=V1:km/h")
        await strip.press("enter")
        await shown(strip)
        assert "2 runs of 0-50." in strip.said
        assert "no time of day told" in strip.text
        (document,) = documents(season, strip.session_id)
        assert document.columns is not None
        assert document.columns.confirmed
        await strip.press("a")
        await shown(strip)
        (attempt,) = strip.saved.attempts
        assert attempt.value == pytest.approx(7.0, abs=0.3)

        await strip.press("escape")
        again = table(tmp_path, "again.csv", "TIME (S),v1")
        again.write_text(again.read_text() + "999,0\n")
        await open_file(strip, again)
        await shown(strip)
        assert "again.csv" in strip.text
        assert "2 runs of 0-50." in strip.said

        await strip.press("escape")
        await open_file(strip, table(tmp_path, "doubt.csv", "Time (s),Speed"))
        assert "In which unit is the column" in strip.flat
        await strip.press("1")
        assert "speed: Speed in" in strip.text
        await strip.press("y")
        await shown(strip)
        assert "10 rows a second" in strip.text

        await strip.press("escape")
        await open_file(strip, miles(tmp_path))
        await strip.press("y")
        await shown(strip)
        assert "they only make sense as km/h" in strip.flat
        await strip.press("2")
        await shown(strip)
        assert "up to 56" in strip.text
        columns = documents(season, strip.session_id)[-1].columns
        assert columns is not None
        assert (columns.speed_unit, columns.confirmed) == ("km/h", True)


async def test_what_is_no_recording_is_said_and_reading_is_stopped_by_esc(
    season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While the path still stands, where its beginning tells; else once it was read."""
    contents = {b"": "is empty", b"\0" * 5000: "is not a text file", b"PK\x03\x04": "is packed"}
    file = tmp_path / "none.nmea"
    good = demo_recording(season, tmp_path)
    async with with_recording(season, file) as strip:
        assert "There is no file" in strip.flat
        for content, words in contents.items():
            file.write_bytes(content)
            await strip.press("enter")
            assert words in strip.flat
            assert "Which file?" in strip.text
        file.write_text(good.read_text().replace(",A,", ",A,9"))
        await strip.press("enter")
        await shown(strip)
        assert "the checksum of 2,637 lines is wrong" in strip.flat
        await strip.press("enter")
        assert isinstance(strip.app.screen, SessionScreen)

        going, ended = endless(monkeypatch)
        await open_file(strip, good)
        assert going.wait(5.0)
        await strip.pilot.pause(0.15)
        assert "Reading: 30 %  esc stops" in strip.text
        await strip.press("escape")
        assert ended.wait(5.0)
        assert isinstance(strip.app.screen, SessionScreen)
        assert "stopped; nothing was kept" in strip.said
        assert documents(season, strip.session_id) == []


def endless(monkeypatch: pytest.MonkeyPatch) -> tuple[threading.Event, threading.Event]:
    """Let reading never end by itself; return what is set when it is under way and when it ends."""
    going, ended = threading.Event(), threading.Event()

    def read(path: Path, *, columns: object, progress: Callable[[int, int], None]) -> None:
        try:
            while True:
                progress(30_000_000, 100_000_000)
                going.set()
                threading.Event().wait(0.005)
        finally:
            ended.set()

    monkeypatch.setattr("tui.screens.trace.work.read_trace", read)
    return going, ended


async def test_a_clock_that_was_never_set_is_put_right_first(season: Path, tmp_path: Path) -> None:
    """By the time of day at which a run ended, with the reason."""
    file = demo_recording(season, tmp_path)
    lines = file.read_text().replace(",060926,", ",060170,").splitlines()
    file.write_text("\r\n".join(_summed(line) for line in lines) + "\r\n")
    async with with_recording(season, file) as strip:
        await shown(strip)
        await strip.press("a")
        assert "s puts the clock of the recording right" in strip.flat
        assert not list(strip.saved.attempts)
        await strip.press("enter", "s")
        await strip.type_in("10:29:00")
        await strip.press("enter")
        await strip.type_in("never set")
        await strip.press("enter")
        await shown(strip)
        await strip.press("a", "a")
        await shown(strip)
        first, second = strip.saved.attempts
        assert first.at is not None
        assert second.at is not None
        assert f"{first.at:%H:%M:%S}" == "10:29:00"
        assert first.at.date() == BEFORE.date()
        assert 230 < (second.at - first.at).total_seconds() < 250
        (document,) = documents(season, strip.session_id)
        assert document.shift_reason == "never set"


def _summed(line: str) -> str:
    body = line[1:].partition("*")[0]
    total = 0
    for letter in body.encode():
        total ^= letter
    return f"${body}*{total:02X}"


def test_paths_are_completed(tmp_path: Path) -> None:
    for name in ("moth-0906.nmea", "moth-0907.nmea", "other.csv", ".hidden"):
        (tmp_path / name).touch()
    (tmp_path / "folder").mkdir()
    base = f"{tmp_path}/"
    assert completed(f"{base}m") == (
        f"{base}moth-090",
        ("moth-0906.nmea", "moth-0907.nmea"),
    )
    assert completed(f"{base}o") == (f"{base}other.csv", ())
    assert completed(f"{base}fo") == (f"{base}folder/", ())
    assert completed(f"{base}none") == (f"{base}none", ())
    assert completed("/no/such/folder/x") == ("/no/such/folder/x", ())
    assert ".hidden" not in completed(base)[1]
