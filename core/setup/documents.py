"""The documents of what runs and what is bolted to it: machines and parts."""

from __future__ import annotations

from datetime import date
from typing import Any, Literal

import msgspec

from core.clock import AwareTime
from core.log import Document, Kind

__all__ = [
    "MACHINE_KIND",
    "PART_KIND",
    "Machine",
    "MachineHead",
    "Part",
    "PartHead",
    "PartLink",
    "PartStatus",
    "SplitOff",
]

MachineType = Literal["minibike", "kart", "other"]
PartStatus = Literal["wanted", "ordered", "here", "fitted", "retired"]


class Machine(Document, frozen=True, kw_only=True):
    """A minibike or kart: what runs."""

    name: str
    type: MachineType = "other"
    aliases: tuple[str, ...] = ()  # other and former names
    archived: bool = False  # hidden from pick lists; sessions stay readable
    rpm_factory: float | None = None  # governed speed of the maker, rpm; None: the usual 3,600
    note: str = ""
    created: AwareTime | None = None


class PartLink(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A photo or other file that belongs to a part; linked, never copied."""

    path: str
    sha256: str = ""
    caption: str = ""


class SplitOff(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Which entries on old sheets under another part's id were this part all along."""

    part: str  # id that the old sheets have
    machine: str = ""  # id: only entries of this machine; empty: of any
    since: date | None = None  # only from that day on; None: from the first


class Part(Document, frozen=True, kw_only=True):
    """A thing with an identity that can move between machines."""

    name: str  # nickname
    slot: str  # id of the part slot it fits
    aliases: tuple[str, ...] = ()  # other and former names; old sheets keep the name of then
    status: PartStatus = "here"
    machine: str = ""  # id of the machine it is on, when fitted
    since: date | None = None  # fitted there since
    teeth: int | None = None  # sprockets only
    rpm_limit: float | None = None  # stated by its maker, rpm
    hours_before: float = 0.0  # hours it had when it came into the log
    cost: float | None = None  # in the user's own money
    minutes: float | None = None  # to swap it
    retired_because: str = ""
    links: tuple[PartLink, ...] = ()
    note: str = ""
    created: AwareTime | None = None
    same_as: str = ""  # id of the part that this one turned out to be; its sheets stay as they are
    split_off: SplitOff | None = None  # what was under another part's id and is this one


class MachineHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of machines needs."""

    id: str
    name: str
    type: str = "other"
    aliases: tuple[str, ...] = ()
    archived: bool = False


class PartHead(msgspec.Struct, frozen=True, kw_only=True):
    """What a list of parts needs."""

    id: str
    name: str
    slot: str
    aliases: tuple[str, ...] = ()
    status: str = "here"
    machine: str = ""
    same_as: str = ""


def _as_it_was(fields: dict[str, Any]) -> dict[str, Any]:
    """Format 2 may say ``same_as`` and ``split_off``; what format 1 says is all still so."""
    return dict(fields)


MACHINE_KIND = Kind(name="machine", folder="machines", type=Machine, head=MachineHead)
PART_KIND = Kind(
    name="part", folder="parts", type=Part, head=PartHead, version=2, migrations=(_as_it_was,)
)
