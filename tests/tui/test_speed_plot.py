"""Speed over time as braille and as ASCII, with the runs below."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from core.report.speed_pictures import RunSpan, SpeedPicture, span_of_run, speed_picture
from tests.core.session.rides import recording, runs_of
from tui.widgets.speed_plot import drawn_speed


def made(columns: int) -> SpeedPicture:
    """A rise from rest to 50 km/h with a gap in the middle, and a run over the first half."""
    rise = [(50 * i / (columns - 1), 50 * i / (columns - 1)) for i in range(columns)]
    gap = columns // 2
    cells = (*rise[:gap], None, *rise[gap + 1 :])
    return SpeedPicture(cells, 50.0, 0.0, 10.0, (RunSpan(0.0, 0.45, 1), RunSpan(0.9, 0.92, 12)))


def text_of(**more: object) -> list[str]:
    lines = drawn_speed(made, 44, 5, **more)  # type: ignore[arg-type]
    return ["".join(text for text, _ in line) for line in lines]


def test_curve_with_labels_and_runs_below() -> None:
    lines = text_of(here=1, words="7.26 s")
    assert len(lines) == 5
    assert {len(line) for line in lines} == {44}
    assert lines[0].startswith(" 50 ")
    assert lines[3].startswith("  0 ")
    assert "├───── 7.26 s ────┤" in lines[4]
    assert lines[4].rstrip().endswith("12")
    assert lines[0].rstrip()[-1] != " "
    assert lines[3][4] != " "


def test_ascii_has_nothing_else() -> None:
    lines = text_of(here=None, ascii_only=True)
    assert all(line.isascii() for line in lines)
    assert "[" in lines[4]
    drawn = [line[4:] for line in lines[:4]]
    assert all(
        sum(row[column] == "*" for row in drawn) == 1 for column in range(40) if column != 20
    )
    assert not any(row[20] == "*" for row in drawn)


def test_picture_of_a_recording(tmp_path: Path) -> None:
    _, trace = recording(tmp_path)
    runs = runs_of(trace)
    whole = speed_picture(trace, runs, 80)
    assert len(whole.columns) == 80
    assert [run.number for run in whole.runs] == [1, 2, 3, 4, 5, 6]
    assert whole.top == pytest.approx(float(trace.speed.max()) * 3.6)
    assert max(high for _, high in filter(None, whole.columns)) == pytest.approx(whole.top)
    near = speed_picture(trace, runs, 200, span_of_run(runs[1]))
    assert [run.number for run in near.runs] == [2]
    assert near.start < runs[1].start < runs[1].end < near.end
    assert all(near.columns), "rows are bridged where the picture is finer than they are"
    assert near.end - near.start < timedelta(minutes=1).total_seconds()
