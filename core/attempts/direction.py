"""Which way the next attempt goes, and the names directions can have."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from core.attempts.asking import quoted
from core.attempts.codes import find_strike
from core.attempts.documents import Attempt
from core.errors import InputError

__all__ = [
    "KNOWN_PAIRS",
    "direction_words",
    "guess_directions",
    "next_direction",
    "opposite",
    "read_direction",
]

KNOWN_PAIRS: tuple[tuple[str, str], ...] = (
    # the one that is run first by habit stands first
    ("W", "E"),
    ("N", "S"),
    ("NW", "SE"),
    ("SW", "NE"),
    ("out", "back"),
    ("up", "down"),
)

_WORDS = {
    "W": "west",
    "E": "east",
    "N": "north",
    "S": "south",
    "NW": "north west",
    "SE": "south east",
    "SW": "south west",
    "NE": "north east",
}


def direction_words(name: str) -> str:
    """Return a direction as it is read aloud.

    >>> direction_words("W"), direction_words("out")
    ('west', 'out')
    """
    return _WORDS.get(name.upper(), name)


def _plain(name: str) -> str:
    return "".join(c for c in name.casefold() if c not in " -_")


_KNOWN = {
    _plain(spelling): name
    for pair in KNOWN_PAIRS
    for name in pair
    for spelling in (name, direction_words(name))
}


def opposite(direction: str, directions: Sequence[str] = ()) -> str:
    """Return the other way, by the place's two names or else by the known pairs.

    Returns:
        The other name; empty when there is none (one way, or a name of no known pair).

    >>> opposite("W", ("W", "E")), opposite("back"), opposite("", ("W", "E"))
    ('E', 'out', '')
    """
    pairs = [directions] if directions else KNOWN_PAIRS
    for pair in pairs:
        if len(pair) == 2 and direction in pair:
            return pair[1] if direction == pair[0] else pair[0]
    return ""


def read_direction(text: str, directions: Sequence[str] = ()) -> str:
    """Return the place's name for a typed direction: its name, its word, or a clear head of it.

    Args:
        text: as typed; empty, ``-`` or ``?`` means not known.
        directions: the place's two names; empty where it is run one way, and any known name goes.

    Raises:
        InputError: not one of them.

    >>> read_direction("west", ("W", "E")), read_direction("b", ("out", "back"))
    ('W', 'back')
    """
    word = _plain(text)
    if word in ("", "?"):
        return ""
    names = directions or tuple(_KNOWN.values())
    spellings = {_plain(s): n for n in names for s in (direction_words(n), n)}
    heads = {n for s, n in spellings.items() if s.startswith(word)}
    found = spellings.get(word) or (heads.pop() if len(heads) == 1 else None)
    if found is None:
        if not directions:
            return _own(text)
        raise InputError(f"{quoted(text)} is not a direction here: {' or '.join(directions)}.")
    return found


def _own(text: str) -> str:
    """Take a name of the user's own, where the place has none yet."""
    clean = " ".join(text.split())
    if len(clean) > 20 or not clean.isprintable():
        raise InputError(f"{quoted(text)} is too long or odd for the name of a direction.")
    return clean


def guess_directions(names: Iterable[str]) -> tuple[str, ...]:
    """Return the two direction names of a place, from all that a file gives for it.

    Two names are the two; one name of a known pair brings its opposite; one unknown name, or none,
    means one way.

    Returns:
        Two names, the one run first by habit in front, or nothing for one way.

    Raises:
        InputError: three names or more.

    >>> guess_directions(["E", "west"]), guess_directions(["out"]), guess_directions(["lap"])
    (('W', 'E'), ('out', 'back'), ())
    """
    seen = list(dict.fromkeys(n for n in (read_direction(name) for name in names) if n))
    if len(seen) > 2:
        listed = ", ".join(seen[:6])
        raise InputError(f"A place has two directions, and these are more: {listed}.")
    for pair in KNOWN_PAIRS:
        if seen and set(seen) <= set(pair):
            return pair
    return tuple(seen) if len(seen) == 2 else ()


def next_direction(
    attempts: Sequence[Attempt], directions: Sequence[str], override: str = ""
) -> str:
    """Return which way the next attempt goes: the other way from where the last one ended.

    The machine stands where its last run took it. Timed and warm-up attempts run through, also
    when they are struck for the watch or the wind. An aborted attempt, and one struck for a false
    start, for something on the strip or for a lost chain, goes back to its start and is run again
    the same way. An attempt whose direction is not known is taken to have gone the expected way.

    Args:
        attempts: all of the session so far, in their order.
        directions: the place's two names, or none where it is run one way.
        override: the direction chosen by hand for the next one; empty: none.

    Returns:
        One of the place's names; empty where it has none.

    Raises:
        InputError: the override is not one of the place's names.
    """
    if not directions:
        return ""
    if override:
        return read_direction(override, directions)
    expected = directions[0]
    for attempt in attempts:
        went = attempt.direction if attempt.direction in directions else expected
        expected = opposite(went, directions) or went if _ran_through(attempt) else went
    return expected


def _ran_through(attempt: Attempt) -> bool:
    if attempt.kind == "aborted":
        return False
    return attempt.strike is None or find_strike(attempt.strike.code).ran_through
