"""Killed at any moment, the log holds everything whose saving was acknowledged."""

from __future__ import annotations

import json
import random
import time
from pathlib import Path

import pytest

from tests.core.log.samples import Bench, Visit, open_log, start_python

KILLS = 30
ENTER = """
import sys
from pathlib import Path
from tests.core.log.samples import Bench, Reading, Try, Visit, open_log
with open_log(Path(sys.argv[1])) as log:
    assert not log.read_only, log.read_only_reason
    run = len(log.ids(Visit))
    visit = Visit(id=f"v{run:03d}")
    for number in range(100_000):
        tries = (*visit.tries[-200:], Try(value=float(number), text=str(number)))
        visit = Visit(id=visit.id, label=str(number), tries=tries)
        log.save(visit, Bench(id="totals", rows=[run, number]))
        print(visit.id, number, flush=True)
"""


@pytest.mark.timeout(180)
def test_what_was_acknowledged_is_there_after_each_of_many_kills(folder: Path) -> None:
    moments = random.Random(20260412)
    acknowledged: dict[str, int] = {}
    for _ in range(KILLS):
        process = start_python(ENTER, folder)
        lines = [process.stdout.readline() for _ in range(moments.randint(1, 8))]
        time.sleep(moments.uniform(0.0, 0.01))
        process.kill()
        rest, complaint = process.communicate()
        assert all(lines), complaint
        for line in (*lines, *rest.splitlines(keepends=True)):
            if line.endswith("\n"):
                name, number = line.split()
                acknowledged[name] = int(number)
        last = max(acknowledged)
        _check(folder, acknowledged, last)
    assert len(acknowledged) == KILLS


def _check(folder: Path, acknowledged: dict[str, int], last: str) -> None:
    """Open the log as the next process would, and look for all that was promised."""
    with open_log(folder) as log:
        assert not log.read_only
        found = {visit.id: visit for visit in log.all(Visit)}
        for name, number in acknowledged.items():
            assert int(found[name].label) >= number
            assert [t.text for t in found[name].tries[-1:]] == [found[name].label]
        assert log.get(Bench, "totals").rows >= [int(last[1:]), acknowledged[last]]
        assert log.problems == ()
        left = [path.name for path in folder.rglob("*") if path.name.endswith(".saving")]
        assert left == []
    for path in folder.rglob("*.json"):
        json.loads(path.read_text(encoding="utf-8"))
