"""A log folder in a bad way, as the command line meets it: told in one line, nothing lost."""

from __future__ import annotations

import json
from pathlib import Path

from tests.core.exchange.samples import row, rows
from tests.tui.cli.conftest import Call


def test_what_an_import_put_aside_is_told_then_and_by_health_ever_after(
    call: Call, own_season: Path, tmp_path: Path
) -> None:
    (file,) = (own_season / "sessions").glob("20260503*.json")
    whole = file.read_bytes()
    file.write_bytes(whole[:700])
    notes = tmp_path / "a.csv"
    notes.write_text(rows(row(value="7.26", session="S77")), encoding="utf-8")
    place = f"aside/sessions/{file.name}"
    said = call("import", notes, "--log", own_season)
    assert said.code == 0
    assert said.err.count("\n") == 1
    assert f"It was put aside as {place}." in said.err
    for _ in range(2):
        found = call("health", "--json", "--log", own_season)
        assert found.code == 1
        assert [p["file"] for p in json.loads(found.out)["problems"]] == [place]
    file.write_bytes(whole)
    assert call("health", "--log", own_season).code == 0
    assert (own_season / place).read_bytes() == whole[:700]
