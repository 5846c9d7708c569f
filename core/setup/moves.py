"""What happens to a part between sheets: ordered, come, moved, split in two, made one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Literal

import msgspec

from core.errors import BlockedError, InputError
from core.setup.documents import Part, PartLink, SplitOff
from core.setup.fitting import take_off
from core.setup.shelf import P, rename

__all__ = [
    "WAITING",
    "came",
    "linked",
    "make_one",
    "order",
    "settled_id",
    "split",
    "unlinked",
    "want",
]

WAITING: tuple[Literal["wanted", "ordered"], ...] = ("wanted", "ordered")
"""Status of a part that is not in the house yet."""


def want(part: Part) -> Part:
    """Return a part that is wished for; one that is here already cannot be.

    Raises:
        BlockedError: it is here, fitted or retired.
    """
    return _waiting(part, "wanted")


def order(part: Part) -> Part:
    """Return a part that was ordered.

    Raises:
        BlockedError: it is here, fitted or retired.
    """
    return _waiting(part, "ordered")


def _waiting(part: Part, status: Literal["wanted", "ordered"]) -> Part:
    if part.status not in WAITING:
        raise BlockedError(f"{part.name} is {part.status}: it cannot be {status} as well.")
    return msgspec.structs.replace(part, status=status)


def came(part: Part) -> Part:
    """Return a part that lies on the shelf now: it came, or came off its machine.

    Raises:
        BlockedError: it is retired.
    """
    if part.status == "retired":
        raise BlockedError(
            f"{part.name} is retired ({part.retired_because}): it does not come back.",
            "Make a new part for another one of the kind.",
        )
    return take_off(part)


def linked(part: Part, path: str, caption: str = "") -> Part:
    """Return a part with one more photo or file; it is linked, never copied.

    Args:
        part: any.
        path: of the file, as it is reached from the log folder, or whole.
        caption: a few words; empty: none.

    Raises:
        InputError: no path, or it is linked already.
    """
    clean = path.strip()
    if not clean:
        raise InputError("A link needs the path of a file.")
    if any(link.path == clean for link in part.links):
        raise InputError(f"{part.name} is linked to {clean} already.")
    link = PartLink(path=clean, caption=" ".join(caption.split()))
    return msgspec.structs.replace(part, links=(*part.links, link))


def unlinked(part: Part, path: str) -> Part:
    """Return a part without this link; the file itself is not touched."""
    return msgspec.structs.replace(part, links=tuple(x for x in part.links if x.path != path))


def settled_id(part_id: str, parts: Mapping[str, P]) -> str:
    """Return the id of the part that an id stands for, after all that were made one.

    Args:
        part_id: as it stands on a sheet.
        parts: those of the log by id; one that is missing ends the search.

    A ring of parts that are each said to be the next one stands for the first id of them.
    """
    seen = [part_id]
    while (part := parts.get(seen[-1])) is not None and part.same_as:
        if part.same_as in seen:
            return min(seen[seen.index(part.same_as) :])
        seen.append(part.same_as)
    return seen[-1]


def make_one(kept: Part, gone: Part, parts: Iterable[Part]) -> tuple[Part, Part]:
    """Return both documents after two parts turned out to be one thing.

    Old sheets are not touched: they keep the name of then, and the id that went is found through
    ``same_as``. Names and links of the one that went go over.

    Args:
        kept: the one that stays.
        gone: the one that it was all along; it leaves pick lists.
        parts: those of the log.

    Raises:
        InputError: one and the same part, parts of two slots, or parts already made one.
        BlockedError: both are fitted, on two machines.
    """
    heads = {p.id: p for p in parts}
    if kept.id == gone.id or settled_id(kept.id, heads) == settled_id(gone.id, heads):
        raise InputError(f"{kept.name} and {gone.name} are one part already.")
    if kept.slot != gone.slot:
        raise InputError(f"{kept.name} and {gone.name} sit in different slots: they are two.")
    if kept.status == gone.status == "fitted" and kept.machine != gone.machine:
        raise BlockedError(
            f"{kept.name} and {gone.name} are on two machines: one thing cannot be.",
            "Take one of them off first, if the log is wrong about it.",
        )
    names = dict.fromkeys((*kept.aliases, gone.name, *gone.aliases))
    links = {link.path: link for link in (*gone.links, *kept.links)}
    where = gone if gone.status == "fitted" and kept.status != "fitted" else kept
    one = msgspec.structs.replace(
        kept,
        aliases=tuple(name for name in names if name != kept.name),
        links=tuple(links.values()),
        status=where.status,
        machine=where.machine,
        since=where.since,
        teeth=kept.teeth if kept.teeth is not None else gone.teeth,
        rpm_limit=kept.rpm_limit if kept.rpm_limit is not None else gone.rpm_limit,
        hours_before=max(kept.hours_before, gone.hours_before),
        note=" ".join(filter(None, (kept.note, gone.note))),
    )
    other = msgspec.structs.replace(take_off(gone), same_as=kept.id)
    return one, other


def split(
    part: Part,
    name: str,
    new_id: str,
    at: datetime,
    *,
    machine: str = "",
    since: date | None = None,
) -> tuple[Part, Part]:
    """Return both documents after one part turned out to be two things.

    Entries on old sheets are not touched; those of the machine, or from the day on, now count for
    the new part.

    Args:
        part: the one in the log.
        name: of the new one.
        new_id: a fresh id.
        at: when it was found out.
        machine: id; entries on this machine's sheets were the new one.
        since: entries from this day on were the new one.

    Raises:
        InputError: neither machine nor day, the same name, or no name.
    """
    if not machine and since is None:
        raise InputError(f"Which entries of {part.name} were the other one?",
                         "Those of a machine, or those from a day on.")  # fmt: skip
    named = rename(part, name)
    if named.name.casefold() == part.name.casefold():
        raise InputError(f"The other one needs another name than {part.name}.")
    fitted_there = part.status == "fitted" and machine in ("", part.machine)
    new = msgspec.structs.replace(
        part,
        id=new_id,
        name=named.name,
        aliases=(),
        status="fitted" if fitted_there else "here",
        machine=part.machine if fitted_there else "",
        since=part.since if fitted_there else None,
        hours_before=0.0,
        links=(),
        note="",
        created=at,
        same_as="",
        split_off=SplitOff(part=part.id, machine=machine, since=since),
    )
    return (take_off(part) if fitted_there else part), new
