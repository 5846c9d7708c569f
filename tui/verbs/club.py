"""``club``: what each part did over the Parquet exports of many logs."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from core.report.effects_page import effects_data, effects_page
from core.verdict.fleet import block_files, pooled_effects
from tui.output import Result

__all__ = ["run"]


def run(arguments: Namespace) -> Result:
    """Return what each part did over all of them.

    Raises:
        NotFoundError: no such test.
        InputError: a file is no block table, or the test gives no number.
        BackToBackError: DuckDB is not installed.
    """
    files = block_files([Path(word).expanduser() for word in arguments.files])
    found = pooled_effects(files, arguments.test)
    return Result(effects_page(found), effects_data(found))
