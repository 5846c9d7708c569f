"""The documents of recordings: those of the first format are read, and kept beside when saved."""

from __future__ import annotations

from pathlib import Path

import msgspec

from core.session import Book
from core.trace import TRACE_KIND, TraceDocument

OLD = """{
  "format": 1,
  "id": "t1",
  "name": "ride.nmea",
  "sha256": "f02c02cce5ea8e3d7caa42f9bf44b6bd89f99072a88030f3e1767c963fb94908",
  "form": "nmea",
  "size": 194802,
  "read": "2026-09-06T12:34:40+02:00",
  "seconds": 262.9,
  "rows": 2637,
  "rate": 10.0,
  "rejected": 3
}
"""


def test_a_recording_of_the_first_format_is_read(tmp_path: Path) -> None:
    """An older program refuses the second one instead of taking it for a broken document."""
    Book.open(tmp_path / "log").close()
    file = tmp_path / "log" / "traces" / "t1.json"
    file.write_text(OLD)
    with Book.open(tmp_path / "log") as book:
        found = book.log.get(TraceDocument, "t1")
        assert (found.rows, found.seconds, found.drag) == (2637, 262.9, None)
        assert file.read_text() == OLD
        book.save(msgspec.structs.replace(found, session="s1"))
    assert file.with_name("t1.json.format1").read_text() == OLD
    assert TRACE_KIND.version == 2
