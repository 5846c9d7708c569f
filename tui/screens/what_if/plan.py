"""A plan on paper: what was typed for a machine, and what it would do; nothing is ever saved."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime

from core.reckon import BuildSide, WhatIf, what_if
from core.setup import Reading, slot_of
from tui.subject import Subject

__all__ = ["Planned", "shown_side"]


@dataclass(frozen=True)
class Planned:
    """What a plan holds, and what it would do to the machine."""

    typed: dict[str, str | Reading] = field(default_factory=dict)  # by slot
    words: dict[str, str] = field(default_factory=dict)  # as typed or picked, by slot
    top_speed: float | None = None  # expected at the place, km/h

    def with_change(self, slot: str, given: str | Reading, words: str) -> Planned:
        """Return the plan with a slot changed."""
        return replace(
            self, typed=self.typed | {slot: given}, words=self.words | {slot: words.strip()}
        )

    def without(self, slot: str) -> Planned:
        """Return the plan without the change of a slot, and of what only its part tells."""
        typed = {
            one: given
            for one, given in self.typed.items()
            if one != slot and (not isinstance(given, Reading) or slot_of(one).of != slot)
        }
        return replace(
            self, typed=typed, words={one: said for one, said in self.words.items() if one in typed}
        )

    def made(self, subject: Subject, at: datetime) -> WhatIf:
        """Return what it would do.

        Raises:
            InputError: a value is refused.
        """
        past = subject.past
        return what_if(
            subject.sheet,
            self.typed,
            rpm_factory=subject.rpm_factory,
            clay=past.clay(subject.sheet),
            lift_tables=past.tables(subject.sheet),
            halves=past.halves(subject.sheet),
            history=past.answers,
            top_speed=self.top_speed,
            at=at,
        )


def shown_side(made: WhatIf, *, other: bool) -> BuildSide:
    """Return the side that stands under After: the plan, or its first alternative."""
    return made.alternatives[0] if other and made.alternatives else made.after
