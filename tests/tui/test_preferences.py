"""Preferences survive a restart; a file that cannot be read or written costs one line."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from tui.preferences import Preferences, PreferencesFile, Units, preferences_path


def test_what_is_changed_is_there_next_time(tmp_path: Path) -> None:
    """Units, theme, keys and what was used last."""
    path = tmp_path / "not yet" / "preferences.json"
    kept = PreferencesFile(path)
    assert (kept.now, kept.problem) == (Preferences(), "")
    kept.change(units=Units(speed="mph", pressure="psi"), theme="dusk", keys={"log.new": "a"})
    kept.change(cautions_seen=True, machine="m1")
    again = PreferencesFile(path)
    assert again.now == Preferences(
        units=Units(speed="mph", pressure="psi"),
        theme="dusk",
        keys={"log.new": "a"},
        cautions_seen=True,
        machine="m1",
    )
    assert [p.name for p in path.parent.iterdir()] == ["preferences.json"]


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[1, 2]",
        b'{"theme": "neon"}',
        b'{"units": {"speed": 7}}',
        b"\xff\xfe\x00",
        b"[" * 5_000,
    ],
)
def test_a_broken_file_gives_the_usual_settings_and_one_line(
    tmp_path: Path, content: bytes
) -> None:
    """The file stays until something is changed, and is then whole again."""
    path = tmp_path / "preferences.json"
    path.write_bytes(content)
    kept = PreferencesFile(path)
    assert kept.now == Preferences()
    assert "cannot be read" in kept.problem
    assert path.read_bytes() == content
    kept.change(theme="dusk")
    assert kept.problem == ""
    assert PreferencesFile(path).now.theme == "dusk"


def test_fields_of_a_newer_version_are_no_mistake(tmp_path: Path) -> None:
    """What this version does not know is left out."""
    path = tmp_path / "preferences.json"
    path.write_bytes(b'{"theme": "dusk", "sound": true}')
    kept = PreferencesFile(path)
    assert (kept.now.theme, kept.problem) == ("dusk", "")


def test_a_place_that_cannot_be_written_costs_one_line(tmp_path: Path) -> None:
    """What was chosen holds for as long as the app runs."""
    (tmp_path / "file").write_text("in the way")
    kept = PreferencesFile(tmp_path / "file" / "preferences.json")
    kept.change(theme="dusk")
    assert kept.now.theme == "dusk"
    assert kept.problem.startswith("The preferences were not saved")


def test_a_value_that_does_not_fit_is_refused() -> None:
    """By whoever wrote the call, before anything is saved."""
    with pytest.raises(msgspec.ValidationError):
        PreferencesFile().change(theme="neon")


def test_the_file_is_in_the_users_configuration_folder() -> None:
    """And never in the log."""
    assert preferences_path().name == "preferences.json"
    assert "backtoback" in preferences_path().parts
