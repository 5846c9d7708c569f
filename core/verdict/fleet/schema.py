"""The two tables that leave the log as Parquet: every column with its type and meaning."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ATTEMPTS", "BLOCKS", "Field"]


@dataclass(frozen=True)
class Field:
    """One column."""

    name: str
    type: str  # as DuckDB and Parquet name it
    words: str


ATTEMPTS: tuple[Field, ...] = (
    Field("log", "VARCHAR", "id of the log"),
    Field("session", "VARCHAR", "id of the session"),
    Field("label", "VARCHAR", "the session's own name, such as S05"),
    Field("machine", "VARCHAR", "name of the machine"),
    Field("place", "VARCHAR", "name of the place; empty: not told"),
    Field("rider", "VARCHAR", "rider code; empty: not told"),
    Field("n", "INTEGER", "number of the attempt within the session"),
    Field("build", "VARCHAR", "letter of the build it ran on, within the session"),
    Field("test", "VARCHAR", "name of the test"),
    Field("timing", "VARCHAR", "timing gear; empty: not told"),
    Field("kind", "VARCHAR", "timed, warm-up or aborted"),
    Field("value", "DOUBLE", "in the unit; null: aborted"),
    Field("unit", "VARCHAR", "s or km/h; empty: words only"),
    Field("direction", "VARCHAR", "one of the place's two; empty: not known, or run one way"),
    Field("ran_at", "TIMESTAMPTZ", "when; null: not known"),
    Field("tags", "VARCHAR[]", "behaviour of the machine, such as BOG"),
    Field("struck", "VARCHAR", "strike code, a fault of the test; empty: it counts"),
    Field("note", "VARCHAR", "free words"),
)
"""``attempts.parquet``: one row for each attempt, struck and aborted ones too."""

BLOCKS: tuple[Field, ...] = (
    Field("log", "VARCHAR", "id of the log"),
    Field("session", "VARCHAR", "id of the session"),
    Field("machine", "VARCHAR", "id of the machine"),
    Field("test", "VARCHAR", "name of the test"),
    Field("day", "VARCHAR", "local date and place: blocks of one day share its luck"),
    Field("value", "DOUBLE", "mean of the observations, in the test's unit, allowance taken off"),
    Field("weight", "DOUBLE", "observations it rests on; one pair with the finest gear counts 1"),
    Field("moment", "DOUBLE", "when it ran, s, where a build came back that day; else null"),
    Field("ss", "DOUBLE", "sum of squares about its mean, times the weight of one observation"),
    Field("dof", "INTEGER", "degrees of freedom of it"),
    Field("allowance_sd", "DOUBLE", "doubt of what was taken off for air and rider"),
    Field("step", "DOUBLE", "least scatter of one observation of weight 1: the timer's rounding"),
    Field("levels", "MAP(VARCHAR, VARCHAR)", "slot to what was on, and who, where and how"),
)
"""``blocks.parquet``: one row for each build of each session and test, for effects of many logs."""
