"""What to test next out of an open log: how the machine stands, what is free, what is known."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import sqrt

from core.attempts import Test, find_test
from core.errors import InputError, NotFoundError
from core.session import Book
from core.setup import SLOTS, Part, Sheet, find_slot, slot_of
from core.stats import Column
from core.verdict.effects import DAY_SHARE, Allowance, Looked, look, sheets_of, usual_of
from core.verdict.next.planning import proposal_of
from core.verdict.next.ranking import Running, rank
from core.verdict.next.results import NextTest, Proposal
from core.verdict.next.swaps import Standing, swaps_from

__all__ = ["next_test"]


def next_test(
    book: Book,
    machine: str = "",
    test: str = "",
    about: str = "",
    *,
    allowances: dict[str, Allowance] | None = None,
) -> NextTest:
    """Return the swaps that could be tested next on a machine, the one that tells most first.

    Args:
        book: the open log.
        machine: name or id; empty: that of the newest session.
        test: name; empty: the one the machine ran most.
        about: any name of the slot that is asked about; empty: everything that is open.
        allowances: by session id, what conditions explain of its times; None: nothing.

    Raises:
        NotFoundError: no such machine, test or slot, or an empty log.
        InputError: the test gives no number.
    """
    if machine == "all":
        raise InputError("What to test next is asked of one machine.", "Name it.")
    slot = find_slot(about).id if about else ""
    looked = look(book, machine, test, allowances=allowances)
    effects = looked.effects
    found = find_test(effects.test)
    last = book.last_session(effects.machine)
    if last is None:
        raise NotFoundError(
            f"{effects.machine_name} has no setup sheet yet.", "Say what is bolted on first."
        )
    parts = book.log.all(Part)
    standing = Standing(
        sheet=last.sheets[-1],
        past=tuple(sheets_of(book, looked.heads).values()),
        parts=parts,
        history=book.cleared_before(effects.machine),
        sessions=_sessions(looked),
    )
    running = _running(looked, found)
    swaps = swaps_from(standing)
    proposals = tuple(proposal_of(r, running) for r in rank(swaps, running, _with_followers(slot)))
    return NextTest(
        machine=effects.machine,
        machine_name=effects.machine_name,
        test=effects.test,
        unit=effects.unit,
        decimals=effects.decimals,
        about=slot_of(slot).label if slot else "",
        proposals=proposals,
        left_out=tuple(_left_out(parts, standing.sheet)),
        sentence=_first(proposals, effects.machine_name, found, slot),
    )


def _with_followers(slot: str) -> tuple[str, ...]:
    """Return a slot and those whose change goes with its own, such as a clutch's engagement."""
    if not slot:
        return ()
    return (slot, *(other.id for other in SLOTS.values() if slot in other.follows))


def _sessions(looked: Looked) -> dict[Column, int]:
    seen: defaultdict[Column, set[str]] = defaultdict(set)
    if looked.analysis is not None:
        evidence = looked.analysis.evidence
        for block, session in zip(evidence.blocks, evidence.sessions, strict=True):
            for column in block.levels:
                seen[column].add(session)
    return {column: len(ids) for column, ids in seen.items()}


def _running(looked: Looked, test: Test) -> Running:
    """Return how the next test would be run: like the last session that ran it."""
    analysis, effects = looked.analysis, looked.effects
    head = looked.heads[-1] if looked.heads else None
    two_way = head is None or len(head.directions) == 2
    usual = analysis.usual if analysis else usual_of(test, test.typical, 0.0)
    parted = analysis.parted if analysis else None
    block = analysis.evidence.blocks[-1] if analysis else None
    weight = 1.0 if block is None else block.weight / (block.dof + 1)  # of one observation
    return Running(
        test=test,
        parted=parted,
        noise_sd=(parted.noise_sd if parted else usual.sd) / sqrt(weight),
        day_sd=parted.day_sd if parted else usual.day_sd,
        effect_sd=usual.effect_sd,
        level=usual.day_sd / DAY_SHARE,
        gain=effects.gain,
        two_way=two_way,
        last_pairs=0 if block is None else block.dof + 1,
    )


def _left_out(parts: list[Part], sheet: Sheet) -> Iterator[str]:
    """Yield why parts that lie on the shelf are no candidates."""
    own = [p for p in parts if not p.same_as and not p.slot.startswith("own:")]
    here = [p for p in own if p.status == "here"]
    no_place = [p.name for p in here if not sheet.readings.get(p.slot) or
                not sheet.readings[p.slot].part]  # fmt: skip
    if no_place:
        yield f"No slot to hold against on this machine's sheet: {', '.join(no_place[:6])}."
    away = [p.name for p in own if p.status in ("wanted", "ordered")]
    if away:
        yield f"Not here yet: {', '.join(away[:6])}."


def _first(proposals: tuple[Proposal, ...], machine: str, test: Test, slot: str) -> str:
    what = f" about {slot_of(slot).label}" if slot else ""
    if not proposals and slot:
        return f"{machine}, {test.name}: no swap that could be made now tells more{what}."
    if not proposals:
        return (
            f"{machine}, {test.name}: no part is here and free, and no setting was run otherwise, "
            "so there is no swap to suggest."
        )
    best = proposals[0]
    how = "A-B-A on one day" if best.design == "A-B-A" else "on another day"
    return f"{machine}, {test.name}: {best.swap.words}, {how}, tells most{what} for its time."
