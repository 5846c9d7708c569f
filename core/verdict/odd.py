"""Attempts that stand apart from the rest of their session: questions, never deletions."""

from __future__ import annotations

from collections.abc import Sequence

from core.attempts import Attempt, counted, direction_centred, find_test
from core.session import Session
from core.stats import flags, grubbs, grubbs_critical
from core.units import format_number
from core.verdict.pool import Pool
from core.verdict.results import Odd

__all__ = ["ENOUGH_DOF", "odd_attempts"]

ENOUGH_DOF = 6  # pooled degrees of freedom beyond the prior before anything may be called odd
_SECOND_OPINION_FROM = 6  # attempts of the session itself, for Grubbs


def odd_attempts(session: Session, pool: Pool, test: str = "") -> tuple[Odd, ...]:
    """Return the attempts that stand further from their direction's mean than chance lets them.

    Args:
        session: the session looked at.
        pool: repeatability of machine, test and gear from the *other* sessions.
        test: name of the test; empty: the session's main test.

    Each sheet of the session is looked at by itself. From two attempts on, and only where the
    pool holds six or more degrees of freedom beyond its prior.
    """
    spread = pool.attempt_spread()
    if spread.own_dof < ENOUGH_DOF:
        return ()
    name = test or session.test
    mine = [
        a
        for a in counted(session.attempts, name, session.test)
        if (a.timing or session.timing) == pool.timing
    ]
    found: list[Odd] = []
    for sheet in sorted({a.sheet for a in mine}):
        block = [a for a in mine if a.sheet == sheet]
        found.extend(_odd_in(session.id, block, spread.sd, spread.dof, name))
    return tuple(found)


def _odd_in(session: str, block: list[Attempt], sd: float, dof: float, test: str) -> list[Odd]:
    seen = direction_centred(block)
    number = {a.n: a for a in block}
    found = []
    for flag in flags(seen.values, sd, dof, seen.groups):
        attempt = number[seen.attempts[flag.index]]
        found.append(
            Odd(
                session=session,
                n=attempt.n,
                value=flag.value,
                centre=flag.expected,
                limit=flag.limit * sd,
                second_opinion=_grubbs_agrees(seen.centred, flag.index),
                sentence=_question(attempt, flag.value, flag.expected, flag.limit * sd, test),
            )
        )
    return found


def _question(attempt: Attempt, value: float, centre: float, limit: float, test: str) -> str:
    row = find_test(test)
    way = f" {attempt.direction}" if attempt.direction else ""
    shown = [format_number(number, row.decimals) for number in (value, centre, limit)]
    return (
        f"Attempt {attempt.n}{way} {shown[0]} {row.unit} stands apart: its direction's mean is "
        f"{shown[1]}, and {shown[2]} {row.unit} either way would still be ordinary for you. "
        "What happened?"
    )


def _grubbs_agrees(centred: Sequence[float], index: int) -> bool | None:
    """Grubbs on the session alone, each direction's mean taken out; None below six attempts."""
    if len(centred) < _SECOND_OPINION_FROM:
        return None
    statistic = grubbs(centred)
    if statistic is None:
        return False
    largest = max(range(len(centred)), key=lambda i: abs(centred[i]))
    return largest == index and statistic > grubbs_critical(len(centred))
