"""``read``: recordings on the command line, several at once, with and without a log."""

from __future__ import annotations

import io
import json
from datetime import timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from core.session import Book
from core.trace import TraceDocument
from tests.core.trace.synthetic import (
    MASS,
    START,
    Drive,
    csv_text,
    gpx_text,
    nmea_text,
    positions,
    recorded,
    season_day,
)
from tests.core.trace.test_coverage import TO_50, TRUTHS, plateau
from tests.tui.cli.conftest import Call, Said
from tui.progress import ProgressLine


@pytest.fixture(autouse=True)
def _no_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BACKTOBACK_LOG", str(tmp_path / "none"))


@pytest.fixture
def files(tmp_path: Path) -> dict[str, Path]:
    """One drive of four runs as all three formats."""
    rng = np.random.default_rng(21)
    times, speed, heading = recorded(season_day(4, rng)[0], 10, 0.05, rng)
    lat, lon = positions(times, speed, heading)
    texts = {
        "nmea": nmea_text(times, speed, heading),
        "gpx": gpx_text(times, lat, lon, speed),
        "csv": csv_text(times, speed),
    }
    found = {name: tmp_path / f"ride.{name}" for name in texts}
    for name, text in texts.items():
        found[name].write_text(text)
    return found


def data(said: Said) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(said.out)
    return found


def test_facts_and_rides_without_a_test(call: Call, files: dict[str, Path]) -> None:
    said = call("read", files["nmea"])
    assert (said.code, said.err) == (0, "")
    assert "at 10 a second" in said.out
    assert "Begins  2026-04-12 08:00:00 UTC" in said.out
    assert said.out.count("270°") == 2
    assert max(map(len, said.out.splitlines())) <= 80


@pytest.mark.parametrize("name", ["nmea", "gpx", "csv"])
def test_runs_of_a_test(call: Call, files: dict[str, Path], name: str) -> None:
    said = call("read", files[name], "--test", "0-50", "--json")
    assert (said.code, said.err) == (0, "")
    (read,) = data(said)
    assert (read["format"], read["test"], read["rejected"]) == (name, "0-50", 0)
    assert read["rate"] == pytest.approx(10.0)
    assert len(read["runs"]) == 4
    for run in read["runs"]:
        assert run["value"] == pytest.approx(TRUTHS[TO_50], abs=0.1)
        assert run["give_or_take"] == pytest.approx(1.96 * run["sd"])
        assert run["unit"] == "s"
        assert run["start_rule"].startswith("from first motion")


def test_directions_and_moments(call: Call, files: dict[str, Path]) -> None:
    said = call("read", files["nmea"], "--test", "0-50", "--directions", "W,E", "--json")
    runs = data(said)[0]["runs"]
    assert [run["direction"] for run in runs] == ["W", "E", "W", "E"]
    assert runs[0]["at"].startswith("2026-04-12T08:00:1")
    own = call("read", files["nmea"], "--test", "0-50", "--directions", "out=265,back", "--json")
    assert [run["direction"] for run in data(own)[0]["runs"]] == ["out", "back"] * 2


def test_other_starts_of_the_clock(call: Call, files: dict[str, Path]) -> None:
    means = {}
    for start in ("motion", "rest", "1ft"):
        said = call("read", files["nmea"], "--test", "0-50", "--start", start, "--json")
        means[start] = np.mean([run["value"] for run in data(said)[0]["runs"]])
    assert means["rest"] > means["motion"] > means["1ft"]


def test_several_files_one_refused(call: Call, files: dict[str, Path], tmp_path: Path) -> None:
    empty = tmp_path / "empty.nmea"
    empty.write_bytes(b"")
    said = call("read", files["nmea"], empty, files["gpx"], "--test", "0-50", "--json")
    assert said.code == 1
    assert said.err == f"backtoback: {empty} is empty.\n"
    first, second, refused = data(said)
    assert (len(first["runs"]), len(second["runs"])) == (4, 4)
    assert (refused["file"], refused["error"]) == (str(empty), f"{empty} is empty.")


def test_garbled_lines_are_told_and_the_code_is_one(call: Call, files: dict[str, Path]) -> None:
    lines = files["nmea"].read_text().splitlines(keepends=True)
    lines[7] = lines[7].replace(",A,", ",a,")
    files["nmea"].write_text("".join(lines))
    said = call("read", files["nmea"])
    assert said.code == 1
    assert "Left out: 1 of its lines (checksum 1)." in said.out
    assert "line 8: Checksum is" in said.out


@pytest.mark.parametrize(
    "words",
    [
        ("--test", "0-51x"),
        ("--test", "0-50", "--directions", "W"),
        ("--start", "soon"),
        ("--shift", "x"),
        ("--session", "S10"),
    ],
)
def test_words_that_are_off(call: Call, files: dict[str, Path], words: tuple[str, ...]) -> None:
    said = call("read", files["nmea"], *words)
    assert said.code in (1, 2)
    assert (said.code == 2) == (words[0] != "--session")  # there is no log to look in
    assert said.out == ""
    assert said.err.count("\n") == 1


def test_no_file_is_used_wrongly(call: Call) -> None:
    assert call("read").code == 2


def test_a_hill_cannot_be_found(call: Call, files: dict[str, Path]) -> None:
    said = call("read", files["nmea"], "--test", "hill")
    assert said.code == 1
    assert "cannot be found in a recording" in said.err


def test_unit_that_is_not_told_is_asked_and_then_said(
    call: Call, tmp_path: Path, files: dict[str, Path]
) -> None:
    plain = tmp_path / "plain.csv"
    plain.write_text(files["csv"].read_text().replace("Speed (km/h)", "Speed"))
    asked = call("read", plain, "--json")
    assert asked.code == 1
    assert "In which unit is the column “Speed”? One of: km/h, mph, m/s" in asked.err
    assert data(asked)[0]["choices"][:2] == ["km/h", "mph"]
    told = call("read", plain, "--columns", "speed=Speed:km/h", "--test", "0-50", "--json")
    assert told.code == 0
    assert len(data(told)[0]["runs"]) == 4


def test_columns_kept_once_are_known_for_the_next_file(
    call: Call, tmp_path: Path, files: dict[str, Path]
) -> None:
    log = tmp_path / "log"
    plain, other = tmp_path / "plain.csv", tmp_path / "other.csv"
    text = files["csv"].read_text().replace("Speed (km/h)", "Speed")
    plain.write_text(text)
    other.write_text(text + "999.0,1.0\n")
    kept = call("--log", log, "read", plain, "--columns", "speed=Speed:km/h", "--keep", "--json")
    assert kept.code == 0
    with Book.open(log, read_only=True) as book:
        document = book.log.get(TraceDocument, data(kept)[0]["kept"])
        assert document.columns is not None
        assert (log / "traces" / f"{document.sha256}.csv").read_text() == text
    known = call("--log", log, "read", other, "--json")
    assert (known.code, known.err) == (0, "")


def test_coast_down_gives_drag(call: Call, tmp_path: Path) -> None:
    drive = Drive()
    for heading in (270.0, 90.0):
        plateau(13.0, 1.0, drive, heading)
    drive.stand(3.0)
    path = tmp_path / "coast.nmea"
    path.write_text(nmea_text(*recorded(drive, 10, 0.03, np.random.default_rng(2)), start=START))
    words = ("--test", "coast-40-15", "--directions", "W,E", "--mass", f"{MASS}kg")
    drag = data(call("read", path, *words, "--air-density", "1.2", "--json"))[0]["drag"]
    assert drag["f0"]["low"] < 60.0 < drag["f0"]["high"]
    assert drag["each_way"] == {"W": 1, "E": 1}
    assert drag["drag_area"]["value"] == pytest.approx(2 * drag["f2"]["value"] / 1.2)
    page = call("read", path, *words).out
    assert "Rolling" in page
    assert "air density not known" in page


def test_season_recording_against_its_session(call: Call, season: Path) -> None:
    (path,) = (season / "traces").glob("*.nmea")
    said = call("--log", season, "read", path, "--session", "S10", "--json")
    assert (said.code, said.err) == (0, "")
    (read,) = data(said)
    assert read["test"] == "0-50"
    assert [pair["attempt"] for pair in read["matching"]["pairs"]] == list(range(1, 9))
    assert all(abs(pair["apart"]) < 0.15 for pair in read["matching"]["pairs"])
    assert [run["direction"] for run in read["runs"]] == ["W", "E"] * 4
    page = call("--log", season, "read", path, "--session", "S10").out
    assert "run 1 is attempt 1, " in page
    assert "10:28:52" in page


def test_week_rollover_is_told_with_the_shift_that_puts_it_right(
    call: Call, tmp_path: Path
) -> None:
    rng = np.random.default_rng(4)
    early = START - timedelta(weeks=1024)
    path = tmp_path / "old.nmea"
    path.write_text(nmea_text(*recorded(season_day(1, rng)[0], 5, 0.05, rng), start=early))
    said = call("read", path)
    assert said.code == 1
    assert "--shift 619315200" in said.out  # 1,024 weeks of 604,800 s
    right = call("read", path, "--shift", "619315200", "--test", "0-50", "--json")
    assert data(right)[0]["runs"][0]["at"].startswith("2026-04-12T08:00")


@pytest.mark.parametrize(("gone", "words"), [(True, "is missing"), (False, "is not what it was")])
def test_health_looks_at_kept_files(call: Call, own_season: Path, gone: bool, words: str) -> None:
    assert call("--log", own_season, "health").code == 0
    (path,) = (own_season / "traces").glob("*.nmea")
    path.unlink() if gone else path.write_text("other")
    said = call("--log", own_season, "health")
    assert said.code == 1
    assert f"The recording moth-0906.nmea {words}" in " ".join(said.out.split())


def test_place_of_the_log_names_the_directions(
    call: Call, season: Path, files: dict[str, Path]
) -> None:
    words = ("--test", "0-50", "--place", "Vennimoor", "--json")
    runs = data(call("--log", season, "read", files["nmea"], *words))[0]["runs"]
    assert [run["direction"] for run in runs] == ["W", "E", "W", "E"]


def test_names_of_files_reach_no_terminal_as_codes(call: Call, tmp_path: Path) -> None:
    path = tmp_path / "a\x1b[31mred.nmea"
    path.write_bytes(b"nothing here")
    said = call("read", path)
    assert "\x1b" not in said.out + said.err


class Screen(io.StringIO):
    """A stream that says whether somebody looks at it."""

    def __init__(self, *, looked_at: bool) -> None:
        super().__init__()
        self.looked_at = looked_at

    def isatty(self) -> bool:
        return self.looked_at


@pytest.mark.parametrize("looked_at", [True, False])
def test_progress_is_shown_on_a_terminal_only(
    monkeypatch: pytest.MonkeyPatch, looked_at: bool
) -> None:
    now = iter([0.0, 0.2, 1.0, 1.01, 2.0])
    monkeypatch.setattr("tui.progress.time.monotonic", lambda: next(now))
    screen = Screen(looked_at=looked_at)
    line = ProgressLine(screen, "long.nmea")
    for done in (10, 30, 31, 60):
        line(done, 100)
    line.clear()
    shown = [part.strip() for part in screen.getvalue().split("\r") if part.strip()]
    wanted = ["Reading long.nmea: 30 %", "Reading long.nmea: 60 %"] if looked_at else []
    assert shown == wanted
