"""How many different pairs were compared lately: counted beside the log, because luck adds up."""

from __future__ import annotations

import contextlib
import logging
from datetime import datetime, timedelta
from pathlib import Path

import msgspec

from core.clock import to_utc
from core.log.headcache import cache_folder

__all__ = ["LATELY", "count_look", "looks_file"]

LATELY = timedelta(hours=12)
"""What counts as one evening; own rule."""

_MOST = 500  # looks kept
_logger = logging.getLogger(__name__)


class _Look(msgspec.Struct, frozen=True):
    """One pair that was looked at."""

    pair: str  # both sides, in any order
    at: float  # s since 1970


def looks_file(log_id: str) -> Path | None:
    """Return where the looks at a log are kept: in the cache folder; None where there is none."""
    try:
        return cache_folder() / "looks" / f"{log_id}.json"
    except (LookupError, RuntimeError):
        return None


def count_look(file: Path | None, sides: tuple[str, str], now: datetime) -> int:
    """Note that two sides were compared, and return how many different pairs were lately.

    Args:
        file: where looks are kept, outside the log; None: nowhere, and nothing is counted.
        sides: what names each side: session and build. The order does not matter.
        now: the time now.

    Returns:
        This pair counted; 0 where nothing is kept. A file that cannot be used is no reason to
        refuse a comparison: then it is 1.
    """
    if file is None:
        return 0
    pair, at = "/".join(sorted(sides)), to_utc(now).timestamp()
    kept = [look for look in _read(file) if 0.0 <= at - look.at <= LATELY.total_seconds()]
    kept = [look for look in kept if look.pair != pair][-_MOST:]
    kept.append(_Look(pair, at))
    try:
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        temporary = file.with_name(f"{file.name}.new")
        temporary.write_bytes(msgspec.json.encode(kept))
        temporary.replace(file)
    except OSError as error:
        _logger.debug("looks were not kept: %s", error)
    return len(kept)


def _read(file: Path) -> list[_Look]:
    with contextlib.suppress(OSError, ValueError):
        return msgspec.json.decode(file.read_bytes(), type=list[_Look])
    return []
