"""Chain and sprockets: pitch diameter and length in links."""

from __future__ import annotations

import math

import msgspec

from core.errors import InputError
from core.guards import above_zero, finite, shown

__all__ = [
    "ChainLength",
    "chain_length",
    "chain_links",
    "check_links",
    "pitch_diameter",
]


class ChainLength(msgspec.Struct, frozen=True):
    """How long a chain must be."""

    exact: float  # links at the given centre distance
    links: int  # next even number up
    centres: float  # m, the distance at which those links are taut
    movement: float  # m, how far the engine moves out from the given distance for that


def pitch_diameter(pitch: float, teeth: float) -> float:
    """Return the diameter of the circle through the chain's pins.

    Args:
        pitch: m, above zero.
        teeth: whole, 3 or more.

    Returns:
        m; ``p / sin(pi/N)``.

    Raises:
        InputError: the pitch is not above zero, or so few teeth.

    Source: ISO 606 / ASME B29.1 (from memory); a regular polygon, closed form.

    >>> round(pitch_diameter(0.0127, 12) * 1000, 3)
    49.069
    """
    count = above_zero("tooth count", teeth)
    if count < 3 or count != int(count):
        raise InputError(f"Tooth count is {count:g}: a sprocket has 3 or more whole teeth.")
    return above_zero("chain pitch", pitch, "mm") / math.sin(math.pi / count)


def chain_length(pitch: float, driver: float, driven: float, centres: float) -> float:
    """Return the length of a taut chain round two sprockets, in links.

    Args:
        pitch: m, above zero.
        driver: teeth, whole, 3 or more.
        driven: teeth, whole, 3 or more.
        centres: distance of the shafts, m; the sprockets must not touch.

    Returns:
        Links, not rounded; length of an open belt over the two pitch circles, over the pitch:
        ``2 C cos(a) + pi (r1 + r2) + 2 a (r2 - r1)``, ``a = asin((r2 - r1)/C)``, in which each arc
        counts as whole pitches of its sprocket.

    Raises:
        InputError: an input is refused, or the sprockets would touch.

    Source: open belt; closed form. Arc taken as ``N/360`` of the teeth, so that it is right for the
    polygon.

    >>> round(chain_length(0.0127, 12, 72, 0.45), 2)
    115.46
    """
    small, large = sorted((driver, driven))
    r1, r2 = pitch_diameter(pitch, small) / 2, pitch_diameter(pitch, large) / 2
    if above_zero("shaft distance", centres, "mm") <= r1 + r2:
        raise InputError(
            f"Shaft distance is {shown(centres, 'mm')}: the sprockets would touch"
            f" below {shown(r1 + r2, 'mm')}."
        )
    lean = math.asin((r2 - r1) / centres)
    straight = 2 * math.sqrt(centres**2 - (r2 - r1) ** 2) / pitch
    return straight + small * (0.5 - lean / math.pi) + large * (0.5 + lean / math.pi)


def chain_links(pitch: float, driver: float, driven: float, centres: float) -> ChainLength:
    """Return the even number of links that just goes round, and where the shafts then stand.

    Args:
        pitch: m, above zero.
        driver: teeth.
        driven: teeth.
        centres: least shaft distance, m.

    Returns:
        The exact length, the next even number, and the distance that makes it taut (bisection).

    Raises:
        InputError: as :func:`chain_length`.

    Source: closed form and bisection.

    >>> chain_links(0.0127, 12, 72, 0.45).links
    116
    """
    exact = chain_length(pitch, driver, driven, centres)
    links = 2 * math.ceil(exact / 2 - 1e-9)
    low, high = centres, centres + 2 * pitch
    for _ in range(60):
        middle = (low + high) / 2
        if chain_length(pitch, driver, driven, middle) < links:
            low = middle
        else:
            high = middle
    return ChainLength(exact, links, high, high - centres)


def check_links(links: float, half_link: bool = False) -> int:
    """Return a link count that a chain can have.

    Args:
        links: as counted.
        half_link: whether a half link (cranked link) is fitted.

    Raises:
        InputError: not whole, below 8, or odd without a half link.

    Source: inner and outer links alternate.

    >>> check_links(106)
    106
    """
    count = finite("link count", links)
    if count != int(count) or count < 8:
        raise InputError(f"Link count is {count:g}: a chain has 8 or more whole links.")
    if int(count) % 2 and not half_link:
        raise InputError(
            f"Link count is {count:g}: an odd chain closes only with a half link.",
            "Count again, or say that a half link is fitted.",
        )
    return int(count)
