"""The invented season, built once for the tests that only read it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

import demo
from core.session import Book


@pytest.fixture(scope="session")
def season(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    folder = tmp_path_factory.mktemp("season") / "log"
    demo.build(folder)
    with Book.open(folder, read_only=True, create=False) as book:
        yield book
