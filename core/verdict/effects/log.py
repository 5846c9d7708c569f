"""Effects out of an open log: which sessions, which sheets, and the finished results."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from core.attempts import find_test
from core.errors import BackToBackError, InputError, NotFoundError
from core.session import Book, Session, SessionHead
from core.setup import Sheet
from core.verdict.effects import sentences as say
from core.verdict.effects.analysis import Analysis, analyse, factor_label
from core.verdict.effects.conditions import allowed_for
from core.verdict.effects.evidence import (
    CIRCUMSTANCES,
    Allowance,
    Evidence,
    gather_evidence,
)
from core.verdict.effects.observed import ran_on
from core.verdict.effects.results import PartEffects

__all__ = [
    "Looked",
    "effects_of",
    "evidence_of",
    "look",
    "pick_machine",
    "pick_test",
    "results_of",
    "sheets_of",
    "tests_of",
]


@dataclass(frozen=True)
class Looked:
    """The results, and what they were worked out from."""

    effects: PartEffects
    analysis: Analysis | None  # None: no session counts
    heads: tuple[SessionHead, ...]


def pick_machine(book: Book, word: str = "") -> tuple[str, str]:
    """Return id and name of the machine meant: as told, else that of the newest session.

    Raises:
        NotFoundError: no such machine, or none at all.
    """
    if word:
        machine = book.machine(word)
        return machine.id, machine.name
    heads = book.sessions()
    if not heads:
        raise NotFoundError("The log has no session yet.", "backtoback import reads some in.")
    newest = heads[-1].machine
    return newest, book.name_of(newest) or newest


def pick_test(heads: Iterable[SessionHead], machine: str, word: str = "") -> str:
    """Return the name of the test meant: as told, else the one most sessions of the machine ran.

    Raises:
        NotFoundError: no such test, or the machine ran none that has a number.
        InputError: the test gives words, no number.
    """
    if word:
        test = find_test(word)
        if not test.usual:
            raise InputError(f"A {test.title} has no number to compare.")
        return test.name
    ran = tests_of(heads, machine)
    if not ran:
        raise NotFoundError(
            "No machine has timed attempts yet."
            if not machine
            else "That machine has no timed attempts yet.",
            "Run a session first.",
        )
    return ran[0]


def tests_of(heads: Iterable[SessionHead], machine: str) -> tuple[str, ...]:
    """Return the tests with numbers that a machine ran as main tests, the most frequent first.

    Args:
        heads: of the log.
        machine: id; empty: of any machine.
    """
    ran: Counter[str] = Counter(
        head.test
        for head in heads
        if machine in ("", head.machine) and head.attempts and _has_numbers(head.test)
    )
    return tuple(name for name, _ in ran.most_common())


def _has_numbers(test: str) -> bool:
    """Tell whether a test is one that can be compared; a later version's is not known here."""
    try:
        return bool(find_test(test).usual)
    except NotFoundError:
        return False


def sheets_of(book: Book, heads: Iterable[SessionHead]) -> dict[str, Sheet]:
    """Return a setup sheet for each build key; one session is read for each key not yet known."""
    found: dict[str, Sheet] = {}
    for head in heads:
        if set(head.builds) <= found.keys():
            continue
        try:
            session = book.log.get(Session, head.id)
        except BackToBackError:
            continue  # it is among the log's problems now; its builds are told as unread
        for key, sheet in zip(head.builds, session.sheets, strict=False):
            found.setdefault(key, sheet)
    return found


def evidence_of(
    book: Book,
    machine: str,
    test: str,
    allowances: Mapping[str, Allowance] | None = None,
    *,
    by_name: bool = False,
) -> tuple[Evidence, tuple[SessionHead, ...]]:
    """Return what the log says on a test, and the sessions that ran it.

    Args:
        book: the open log.
        machine: id; empty: all machines together, each with a level of its own.
        test: name of the test.
        allowances: by session id, what conditions explain of its times; None: nothing.
        by_name: parts of one name count as the same.
    """
    heads = tuple(ran_on(book.sessions(), test, machine))
    evidence = gather_evidence(
        heads,
        sheets_of(book, heads),
        test,
        names=book.name_of,
        parts=book.parts(),
        allowances=allowances,
        by_name=by_name,
    )
    return evidence, heads


def effects_of(
    book: Book,
    machine: str = "",
    test: str = "",
    *,
    allow: bool = True,
    allowances: Mapping[str, Allowance] | None = None,
    gain: float | None = None,
) -> PartEffects:
    """Return what each part did; arguments as for :func:`look`."""
    return look(book, machine, test, allow=allow, allowances=allowances, gain=gain).effects


def look(
    book: Book,
    machine: str = "",
    test: str = "",
    *,
    allow: bool = True,
    allowances: Mapping[str, Allowance] | None = None,
    gain: float | None = None,
) -> Looked:
    """Return what each part did on a machine and test, with what it was worked out from.

    Args:
        book: the open log.
        machine: name or id; empty: that of the newest session; ``all``: all machines together.
        test: name; empty: the one the machine ran most.
        allow: take off what air and rider explain, as far as it was read.
        allowances: by session id, what conditions explain of its times; None: by the road-load
            model, where ``allow`` says so.
        gain: smallest gain worth having; None: the newest session's.

    Raises:
        NotFoundError: no such machine or test, or an empty log.
        InputError: the test gives no number.
    """
    if machine == "all":
        id_, name = "", "All machines"
    else:
        id_, name = pick_machine(book, machine)
    picked = pick_test(book.sessions(), id_, test)
    if allowances is None and allow:
        heads = ran_on(book.sessions(), picked, id_)
        allowances = allowed_for(book, heads, picked)
    evidence, ran = evidence_of(book, id_, picked, allowances)
    told = gain if gain is not None else next((h.gain for h in reversed(ran) if h.gain), None)
    analysis = analyse(evidence, told) if evidence.blocks else None
    results = results_of(id_, name, picked, told, evidence, analysis)
    brought = say.allowed(len(allowances or {}), results.sessions, asked=allow)
    notes = (*results.notes, brought) if results.effects and results.sessions > 1 else results.notes
    return Looked(replace(results, notes=notes), analysis, ran)


def results_of(
    machine: str,
    name: str,
    test_name: str,
    gain: float | None,
    evidence: Evidence,
    analysis: Analysis | None,
) -> PartEffects:
    """Return the results as they are shown.

    Args:
        machine: id; empty: several.
        name: what stands over them.
        test_name: name of the test.
        gain: smallest gain worth having; None: not said.
        evidence: what they rest on.
        analysis: what it was found to say; None: no block.
    """
    test = find_test(test_name)
    every = analysis.effects if analysis else ()
    own = tuple(effect for effect in every if effect.factor not in CIRCUMSTANCES)
    parted = analysis.parted if analysis else None
    spread, day = (parted.noise_sd, parted.day_sd) if parted else (None, None)
    sessions = len(set(evidence.sessions))
    followers = [factor_label(slot) for slot in evidence.followers]
    return PartEffects(
        machine=machine,
        machine_name=name,
        test=test_name,
        unit=test.unit,
        decimals=test.decimals,
        lower_is_better=test.lower_is_better,
        gain=gain,
        sessions=sessions,
        days=len({(block.machine, block.day) for block in evidence.blocks}),
        effects=own,
        around=tuple(effect for effect in every if effect.factor in CIRCUMSTANCES),
        together=analysis.together if analysis else (),
        spread=spread,
        day_spread=day,
        left_out=evidence.left_out,
        sentence=say.overall(name, test, own, sessions),
        notes=say.resting(test, spread, day, followers),
    )
