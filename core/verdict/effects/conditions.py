"""What air and rider explain of each session, so that effects are told after it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from statistics import fmean

from core.errors import BackToBackError
from core.session import Book, Session, SessionHead
from core.verdict.allowing import allowances_of
from core.verdict.allowing.allowances import Ran
from core.verdict.allowing.coasted import coasted
from core.verdict.day_air import DayAir
from core.verdict.effects.evidence import Allowance
from core.verdict.effects.observed import counting
from core.verdict.lookup import place_in
from core.verdict.sides import builds_run, sheet_of, side_of

__all__ = ["allowed_for"]

_DOUBT = 0.25  # of what the model explains: it is a sketch, and so are its inputs
_FITTED = 8  # sessions the machine's own numbers are fitted to
_SPREAD = 0.02  # of the value, for the fit: usual scatter of a mean


def allowed_for(book: Book, heads: Iterable[SessionHead], test: str) -> dict[str, Allowance]:
    """Return what air and load explain of each session's results, by session id.

    Args:
        book: the open log.
        heads: of sessions that ran the test, of any machines.
        test: name of the test.

    Each machine's days are brought to the middle one of them by its road-load model. A session
    whose air was not read, and a machine that cannot be modelled, have no allowance.
    """
    by_machine: defaultdict[str, list[SessionHead]] = defaultdict(list)
    for head in heads:
        if head.weather is not None and not head.windy:
            by_machine[head.machine].append(head)
    found: dict[str, Allowance] = {}
    for ran in by_machine.values():
        if len(ran) > 1:
            found.update(_of_machine(book, ran, test))
    return found


def _of_machine(book: Book, ran: Sequence[SessionHead], test: str) -> Mapping[str, Allowance]:
    by_air = sorted(ran, key=lambda head: head.weather.log_factor if head.weather else 0.0)
    middle = by_air[(len(by_air) - 1) // 2]
    other = next(head for head in reversed(ran) if head is not middle)
    try:
        day_air = _model(book, middle, other, ran, test)
    except BackToBackError:
        return {}  # its sessions cannot be read, or say too little for a model
    if day_air is None:
        return {}
    found = {}
    for head in ran:
        values = [a.value for a in counting(head, test) if a.value is not None]
        load = next(iter(head.loads), None)
        if head.weather is not None and values:
            off = fmean(values) * (1.0 - day_air.share(head.weather, load))
            found[head.id] = Allowance(off, _DOUBT * abs(off))
    return found


def _model(
    book: Book, middle: SessionHead, other: SessionHead, ran: Sequence[SessionHead], test: str
) -> DayAir | None:
    """The machine's elasticities about its middle day."""
    a, b = (_ran(book, head, test) for head in (middle, other))
    near = [head for head in reversed(ran) if head not in (middle, other)][:_FITTED]
    past = [book.log.get(Session, head.id) for head in near]
    spread = _SPREAD * abs(b.side.mean or 1.0)
    made = allowances_of(
        a,
        b,
        past,
        lambda id_: place_in(book, id_),
        spread,
        same_day=False,
        measured=coasted(book, middle.machine),
    )
    return made.day_air


def _ran(book: Book, head: SessionHead, test: str) -> Ran:
    session = book.log.get(Session, head.id)
    build = next(iter(builds_run(session, test)), "")
    side = side_of(session, build, test)
    place = place_in(book, session.place) if session.place else None
    return Ran(session, side, sheet_of(session, build), place)
