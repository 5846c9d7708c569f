"""Keeps typed documents in a folder, one readable JSON file each, durably and for one writer."""

from core.log.documents import Document, Kind, Problem
from core.log.ids import is_id, new_id
from core.log.lock import Owner
from core.log.log import Log

__all__ = ["Document", "Kind", "Log", "Owner", "Problem", "is_id", "new_id"]
