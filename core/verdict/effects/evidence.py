"""What the log holds on a test: a block for each build of each session, and what is left out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import fsum, inf, sqrt

from core.attempts import Attempt, Test, find_test, find_timing, resolution_of, usual_sd
from core.session import SessionHead
from core.setup import PartHead, Sheet
from core.stats import Block, Column, Levels, Usual, resolution_floor
from core.verdict.effects.levels import Catalogue, catalogue
from core.verdict.effects.observed import Seen, counting, seen_in

__all__ = [
    "CIRCUMSTANCES",
    "DAY_SHARE",
    "Allowance",
    "Evidence",
    "gather_evidence",
    "reference_of",
    "usual_of",
]

CIRCUMSTANCES: Mapping[str, str] = {
    "by rider": "rider",
    "at place": "place",
    "timed by": "timing gear",
    "ran": "direction",
}
"""What else may differ between sessions, by the factor's name: who, where and how."""

_PRIOR_DOF = 4.0  # what the usual sd of a test counts for beside the log's own attempts
_DAY_DOF = 3.0
DAY_SHARE = 0.02  # usual day spread as a share of the typical value; common practice
_EFFECT_SHARE = 0.25  # an effect is hardly ever larger than half the typical value; a wide prior


@dataclass(frozen=True, slots=True)
class Allowance:
    """What the conditions of a session explain of its times."""

    value: float
    """To be taken off the session's values, in the test's unit."""
    sd: float = 0.0
    """How well it is known."""


@dataclass(frozen=True)
class Evidence:
    """Blocks of one test, of one machine or several, with what their levels are called."""

    test: str
    blocks: tuple[Block, ...] = ()
    sessions: tuple[str, ...] = ()  # id of the session of each block
    words: Mapping[Column, str] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()  # one sentence for each reason
    followers: tuple[str, ...] = ()  # slots that only varied as a consequence of others
    step: float = 0.0  # smallest step of the timing gear, in weight 1


_REASONS: Mapping[str, str] = {
    "wind": "the wind was beyond 3 m/s mean or 5 m/s in gusts",
    "unknown": "some attempts have no direction",
    "unpaired": "both ways were run, but never one right after the other",
    "mixed": "attempts were timed with different gear",
    "gear": "the timing gear is none that I know",
    "unread": "the setup sheet cannot be read",
}


@dataclass(slots=True)
class _Gathering:
    """What is being gathered."""

    test: Test
    names: Callable[[str], str]
    blocks: list[Block] = field(default_factory=list)
    sessions: list[str] = field(default_factory=list)
    words: dict[Column, str] = field(default_factory=dict)
    left_out: dict[str, list[str]] = field(default_factory=dict)
    floor: float = inf  # smallest step of all gear, in weight 1
    joined: dict[tuple[Levels, Levels], Levels] = field(default_factory=dict)


def gather_evidence(
    heads: Sequence[SessionHead],
    sheets: Mapping[str, Sheet],
    test: str,
    *,
    names: Callable[[str], str],
    parts: Iterable[PartHead],
    allowances: Mapping[str, Allowance] | None = None,
    by_name: bool = False,
) -> Evidence:
    """Return what these sessions say on a test.

    Args:
        heads: those that ran it.
        sheets: a setup sheet for each build key that occurs.
        test: name of the test.
        names: name of a machine or place by id.
        parts: those of the shelf, for their present names and those that were made one.
        allowances: by session id, what conditions explain of its times; None: nothing.
        by_name: parts of one name count as the same, for logs that share no ids.

    Struck, aborted and warm-up attempts never count; tagged ones do.
    """
    found = _Gathering(find_test(test), names)
    followers: dict[str, None] = {}
    shelf = {part.id: part for part in parts}
    for machine in dict.fromkeys(head.machine for head in heads):
        own = [head for head in heads if head.machine == machine]
        keys = dict.fromkeys(key for head in own for key in head.builds)
        known = {key: sheets[key] for key in keys if key in sheets}
        builds = catalogue({"": Sheet(), **known}, shelf, by_name=by_name) if "" in keys else (
            catalogue(known, shelf, by_name=by_name)
        )  # fmt: skip
        followers.update(dict.fromkeys(builds.followers))
        found.words.update(builds.words)
        for head in own:
            _take(found, head, builds, (allowances or {}).get(head.id, Allowance(0.0)))
    return Evidence(
        test=test,
        blocks=tuple(found.blocks),
        sessions=tuple(found.sessions),
        words=found.words,
        left_out=tuple(_told(found.left_out)),
        followers=tuple(followers),
        step=0.0 if found.floor == inf else found.floor,
    )


def _told(left_out: Mapping[str, Sequence[str]]) -> Iterator[str]:
    for reason, labels in left_out.items():
        some = list(dict.fromkeys(labels))
        shown = ", ".join(some[:5]) + (f" and {len(some) - 5} more" if len(some) > 5 else "")
        yield f"Left out: {shown}; {_REASONS[reason]}."


def _take(found: _Gathering, head: SessionHead, builds: Catalogue, allowance: Allowance) -> None:
    """Add the blocks of one session, or note why it is left out."""
    by_sheet: dict[int, list[Attempt]] = {}
    for attempt in counting(head, found.test.name):
        by_sheet.setdefault(attempt.sheet, []).append(attempt)
    if head.windy:
        found.left_out.setdefault("wind", []).append(head.label)
        return
    ran = []
    for sheet, attempts in by_sheet.items():
        key = head.builds[sheet] if sheet < len(head.builds) else ""
        if key not in builds.levels:
            found.left_out.setdefault("unread", []).append(head.label)
            continue
        seen = seen_in(head, attempts)
        if isinstance(seen, str):
            found.left_out.setdefault(seen, []).append(head.label)
        else:
            ran.append((builds.levels[key], seen))
    returned = len(ran) > len({levels for levels, _ in ran}) > 1
    for levels, seen in ran:
        found.blocks.append(_block(found, head, levels, seen, allowance, returned=returned))
        found.sessions.append(head.id)


def reference_of(test: Test, typical: float) -> float:
    """Return the usual sd of a pair's mean with the finest gear: what has weight 1.

    Args:
        test: the test.
        typical: what its values are about, in its unit, above zero.
    """
    return min(usual.of(typical) for usual in test.usual.values()) / sqrt(2.0)


def _block(
    found: _Gathering,
    head: SessionHead,
    levels: Levels,
    seen: Seen,
    allowance: Allowance,
    *,
    returned: bool,
) -> Block:
    test = found.test
    usual = usual_sd(test, seen.timing, test.typical)
    weight = (reference_of(test, test.typical) / usual) ** 2 * (2.0 if seen.is_pair else 1.0)
    step = resolution_of(seen.timing, test.unit, seen.values)
    found.floor = min(found.floor, resolution_floor(step) * sqrt(weight))
    mean = fsum(seen.values) / len(seen.values)
    return Block(
        machine=head.machine,
        day=f"{head.started.date().isoformat()} {head.place}",
        value=mean - allowance.value,
        weight=weight * len(seen.values),
        levels=_with_circumstances(found, levels, head, seen),
        moment=seen.moment if returned else None,
        ss=fsum((value - mean) ** 2 for value in seen.values) * weight,
        dof=len(seen.values) - 1,
        allowance_sd=allowance.sd,
    )


def _with_circumstances(found: _Gathering, levels: Levels, head: SessionHead, seen: Seen) -> Levels:
    """Return the levels of a build and of who, where and how; equal ones as one tuple."""
    around = (
        ("by rider", head.rider.casefold()),
        ("at place", head.place),
        ("timed by", seen.timing),
        ("ran", seen.way),
    )
    known = found.joined.get((levels, around))
    if known is None:
        known = found.joined[levels, around] = levels + around
        gear = find_timing(seen.timing).title if seen.timing else "not told"
        found.words.update(
            {
                around[0]: head.rider or "not told",
                around[1]: found.names(head.place) or "not told",
                around[2]: gear,
                around[3]: f"{seen.way} only" if seen.way else "both ways",
            }
        )
    return known


def usual_of(test: Test, level: float, step: float) -> Usual:
    """Return what is believed of a test before any session.

    Args:
        test: the test.
        level: mean of all values, in the test's unit.
        step: least standard deviation of one observation of weight 1.
    """
    typical = abs(level) or test.typical
    return Usual(
        sd=reference_of(test, typical),
        dof=_PRIOR_DOF,
        day_sd=DAY_SHARE * typical,
        day_dof=_DAY_DOF,
        effect_sd=_EFFECT_SHARE * typical,
        least_sd=step,
    )
