"""Makes logs of thousands of documents in a second or two, by writing their files directly.

Any kind will do: hand `write_many` a kind and its documents, in a folder that `make_log` made.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import msgspec

from core.log import Document, Kind
from core.log.codec import encode, to_fields
from core.log.documents import D

__all__ = ["VISIT_KIND", "Visit", "VisitHead", "make_log", "numbered_id", "visits", "write_many"]

_FIRST = datetime(2020, 3, 1, 8, 30, tzinfo=timezone(timedelta(hours=2)))
_LOG_ID = "20200301-063000-manymany"


def make_log(folder: Path, kinds: Sequence[Kind[D]]) -> None:
    """Make an empty log of these kinds."""
    for kind in kinds:
        (folder / kind.folder).mkdir(parents=True)
    log_file = msgspec.json.encode({"format": 1, "id": _LOG_ID})
    (folder / "log.json").write_bytes(log_file)


def write_many(folder: Path, kind: Kind[D], documents: Iterable[D]) -> int:
    """Write the files of documents without waiting for the disk; return how many.

    The files look an hour old, as those of earlier days are.
    """
    count = 0
    an_hour_ago = datetime.now(UTC).timestamp() - 3600
    for document in documents:
        path = folder / kind.folder / f"{document.id}.json"
        path.write_bytes(encode(kind, to_fields(kind, document)))
        os.utime(path, (an_hour_ago, an_hour_ago))
        count += 1
    return count


def numbered_id(number: int) -> str:
    """Return the id of the n-th document: three a day, in order."""
    moment = (_FIRST + timedelta(hours=8 * number)).astimezone(UTC)
    return f"{moment:%Y%m%d-%H%M%S}-n{number:07d}"


class Try(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One timed try within a visit."""

    number: int
    at: datetime
    value: float  # s
    text: str
    direction: str = ""
    tag: str = ""


class Visit(Document, frozen=True, kw_only=True):
    """A document of about 12 KB, of the shapes that real ones have."""

    label: str
    machine: str
    started: datetime
    settings: dict[str, str] = msgspec.field(default_factory=dict)
    tries: tuple[Try, ...] = ()
    notes: tuple[str, ...] = ()


class VisitHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list and pooled sums need of it."""

    id: str
    label: str
    machine: str
    started: datetime
    tries: tuple[Try, ...] = ()


VISIT_KIND = Kind(name="visit", folder="visits", type=Visit, head=VisitHead)


def visits(count: int) -> Iterator[Visit]:
    """Return so many visits, each of eight tries and a long sheet of settings."""
    for number in range(count):
        started = _FIRST + timedelta(hours=8 * number)
        yield Visit(
            id=numbered_id(number),
            label=f"S{number:04d}",
            machine=numbered_id(number % 3),
            started=started,
            settings={f"slot-{n:03d}": f"as found on day {number}" for n in range(200)},
            tries=tuple(_a_try(number, n, started) for n in range(8)),
            notes=(
                f"Note {number}: " + "dry, hardly any wind, strip swept before the start. " * 30,
            ),
        )


def _a_try(visit: int, number: int, started: datetime) -> Try:
    """Return one try, between 7.00 and 7.50 s."""
    hundredths = 700 + (visit * 7 + number * 13) % 50
    return Try(
        number=number + 1,
        at=started + timedelta(minutes=4 * number),
        value=hundredths / 100,
        text=str(hundredths),
        direction="WE"[number % 2],
        tag="bog" if number == 5 else "",
    )
