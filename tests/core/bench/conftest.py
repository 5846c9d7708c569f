"""A log to take bench readings in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.core.bench.in_a_log import TYPED, Bench


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    made = Bench(tmp_path, TYPED)
    made.next_session()
    yield made
    made.book.close()
