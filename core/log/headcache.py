"""Heads decoded earlier, kept in the platform's cache folder: wholly optional, never trusted.

A head is taken from here only if its file still has the same time of change, size and inode.
Whatever goes wrong with the cache is noted for whoever debugs it, and the files are read instead.
"""

from __future__ import annotations

import contextlib
import hashlib
import logging
import os
import time
from collections.abc import Mapping
from pathlib import Path
from types import GenericAlias
from typing import Any, Final

import msgspec

from core.log.documents import Kind
from core.log.durable import Stamp
from core.log.ids import is_id

__all__ = ["CACHE_VARIABLE", "Head", "HeadCache", "Heads", "cache_folder"]

CACHE_VARIABLE: Final = "BACKTOBACK_CACHE"
"""Environment variable with the folder to use instead of the platform's; ``off`` for none."""

Head = tuple[Stamp, msgspec.Struct]
"""The head of a document and the stamp of the file it was read from."""
Heads = Mapping[str, Head]
"""Heads by id."""

_APP: Final = "backtoback"
_LAYOUT: Final = 1  # of the cache files
_WORTH_WRITING: Final = 64  # heads read afresh; reading fewer costs a few milliseconds
_RECENT: Final = 3_000_000_000  # ns; a file changed so lately may change again within one tick

_logger = logging.getLogger(__name__)


class HeadCache:
    """The cached heads of one log.

    Args:
        log: the log folder.
        log_id: its id.
    """

    def __init__(self, log: Path, log_id: str) -> None:
        self._log = log
        self._log_id = log_id

    def load(self, kind: Kind[Any]) -> dict[str, Head]:
        """Return the heads kept for a kind, by id; none if there is no use in them."""
        try:
            data = memoryview(self._file(kind).read_bytes())
            key = self._key(kind)
            if data[: len(key)] != key:
                return {}
            heads: dict[str, Head] = msgspec.json.decode(data[len(key) :], type=_heads_type(kind))
        except (OSError, LookupError, TypeError, ValueError, RuntimeError) as error:
            _logger.debug("no cached heads of %s: %s", kind.folder, error)
            return {}
        return heads

    def keep(self, kind: Kind[Any], heads: Heads, fresh: int) -> None:
        """Keep heads for next time, if enough of them were read afresh to make it worth while."""
        if fresh < _WORTH_WRITING:
            return
        latest = time.time_ns() - _RECENT
        settled = {id_: head for id_, head in heads.items() if head[0][0] < latest}
        try:
            data = self._key(kind) + msgspec.json.encode(settled)
            _write(self._file(kind), data)
        except (OSError, LookupError, TypeError, ValueError, RuntimeError) as error:
            _logger.debug("heads of %s were not cached: %s", kind.folder, error)

    def _file(self, kind: Kind[Any]) -> Path:
        """Return the cache file of a kind; raises LookupError if there is no place for it."""
        if not is_id(self._log_id):
            raise LookupError("a log without a proper id")
        return cache_folder() / "heads" / self._log_id / f"{kind.folder}.json"

    def _key(self, kind: Kind[Any]) -> bytes:
        """Return what changes whenever cached heads of a kind are of no use any more."""
        schema = msgspec.json.schema(kind.head)
        parts = (
            _LAYOUT,
            kind.name,
            kind.version,
            kind.head_edition,
            schema,
            str(self._log.absolute()),
        )
        return hashlib.sha256(msgspec.json.encode(parts)).hexdigest().encode() + b"\n"


def _heads_type(kind: Kind[Any]) -> Any:
    """Return the type of what a cache file holds: stamp and head by id."""
    stamp = GenericAlias(tuple, (int, int, int))
    return GenericAlias(dict, (str, GenericAlias(tuple, (stamp, kind.head))))


def cache_folder() -> Path:
    """Return the folder for derived files; raises LookupError if there is none."""
    named = os.environ.get(CACHE_VARIABLE, "")
    if not named:
        from platformdirs import user_cache_path  # lazy: 8 ms

        named = str(user_cache_path(_APP, appauthor=False))
    folder = Path(named)
    if not folder.is_absolute():  # switched off, or no home folder known
        raise LookupError(f"no cache folder: {named}")
    return folder


def _write(path: Path, data: bytes) -> None:
    """Put a cache file in place in one step; it need not outlive a power cut."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    temporary = path.with_name(f"{path.name}.{os.urandom(4).hex()}")
    try:
        temporary.write_bytes(data)
        temporary.replace(path)
    finally:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
