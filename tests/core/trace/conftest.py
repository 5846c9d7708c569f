"""What the tests of recordings share: reading text as a file of a fixed day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from core.trace import Columns
from core.trace.reading import read_trace
from core.trace.traces import Trace

NOW = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)
Read = Callable[..., Trace]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    """Return what reads a text, or bytes, as a file."""

    def reading(
        content: str | bytes,
        name: str = "recording",
        columns: Columns | None = None,
        now: datetime = NOW,
    ) -> Trace:
        path = tmp_path / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return read_trace(path, columns=columns, now=now)

    return reading
