"""From names in a file to documents of the log: found where they are known, made where not."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Mapping
from datetime import datetime

from core.attempts.asking import quoted
from core.clock import to_utc
from core.errors import InputError
from core.exchange.results import Made
from core.session import Book, Place, PlaceHead, SessionHead
from core.setup import Machine, MachineHead, Part, PartHead

__all__ = ["Names", "export_labels", "folded", "one_line", "session_id"]

_SUFFIXES = "bcdefghijklmnopqrstuvwxyz"


def one_line(name: str) -> str:
    """Return a name with single blanks: as it stands in a file."""
    return " ".join(name.split())


def folded(name: str) -> str:
    """Return what two spellings of one name have in common."""
    return one_line(name).casefold()


def export_labels(heads: Iterable[SessionHead], machines: Mapping[str, str]) -> dict[str, str]:
    """Return the label of each session in a file, by id.

    In a file, label and machine name tell sessions apart; where the log has two of the same, the
    later ones get a letter behind their label.

    Args:
        heads: every session, in the order of the log.
        machines: names of machines by id.
    """
    used: set[tuple[str, str]] = set()
    labels = {}
    for head in heads:
        machine = folded(machines.get(head.machine, head.machine))
        label = candidate = one_line(head.label) or head.id
        for letter in _letters():
            if (folded(candidate), machine) not in used:
                break
            candidate = f"{label}{letter}"
        used.add((folded(candidate), machine))
        labels[head.id] = candidate
    return labels


def _letters() -> Iterable[str]:
    """Yield b, c ... z, zb, zc ... without end."""
    before = ""
    while True:
        yield from (before + letter for letter in _SUFFIXES)
        before += "z"


def _tail(*words: str) -> str:
    """Return twelve letters that are always the same for the same words."""
    digest = hashlib.sha256("\n".join(words).encode()).digest()
    return base64.b32encode(digest)[:12].decode().lower()


def session_id(label: str, machine: str, started: datetime, rank: int) -> str:
    """Return the id of a session from a file: the same whenever and wherever it is read in.

    Args:
        label: as in the file.
        machine: its name.
        started: when it started.
        rank: its place among the sessions of the file that started at the same moment, from 0.
    """
    tail = _tail("session", folded(label), folded(machine), str(to_utc(started)))
    return f"{to_utc(started):%Y%m%d-%H%M%S}-{rank:04d}{tail}"


class Names:
    """The machines, places and parts of a log, and those that a file adds to them.

    Args:
        book: an open log; nothing is saved here.
    """

    def __init__(self, book: Book) -> None:
        self._book = book
        self._machines = _by_name(book.machines())
        self._machine_names = {h.id: folded(h.name) for h in book.machines()}
        self._places = _by_name(book.places())
        self._parts = {slot: _by_name(heads) for slot, heads in _by_slot(book.parts()).items()}
        self._ids = {id_ for type_ in (Machine, Place, Part) for id_ in book.log.ids(type_)}
        self.new: list[Machine | Place | Part] = []
        """Documents to be saved before the sessions that name them."""

    @property
    def made(self) -> Made:
        """The names of what is new."""
        return Made(
            tuple(d.name for d in self.new if isinstance(d, Machine)),
            tuple(d.name for d in self.new if isinstance(d, Place)),
            tuple(d.name for d in self.new if isinstance(d, Part)),
        )

    def machine_key(self, name: str) -> str:
        """Return what tells this machine from others: its name in the log if that is another."""
        found = self._machines.get(folded(name), set())
        names = {self._machine_names.get(id_, folded(name)) for id_ in found}
        return names.pop() if len(names) == 1 else folded(name)

    def machine(self, name: str) -> str:
        """Return the id of the machine of that name or alias, made if there is none.

        Raises:
            InputError: several have the name.
        """
        found = _one(self._machines, name, "machine")
        if found:
            return found
        machine = Machine(id=self._fresh("machine", name), name=name)
        self.new.append(machine)
        self._machines[folded(name)] = {machine.id}
        return machine.id

    def known_place(self, name: str) -> PlaceHead | None:
        """Return the place of that name or alias in the log, if there is one."""
        found = _one(self._places, name, "place")
        return next((h for h in self._book.places() if h.id == found), None) if found else None

    def place(self, name: str, directions: tuple[str, ...]) -> str:
        """Return the id of the place of that name or alias, made if there is none.

        Args:
            name: as in the file.
            directions: its two names, or none, for a place that is made.

        Raises:
            InputError: several have the name.
        """
        found = _one(self._places, name, "place")
        if found:
            return found
        place = Place(id=self._fresh("place", name), name=name, directions=directions)
        self.new.append(place)
        self._places[folded(name)] = {place.id}
        return place.id

    def part(self, slot: str, name: str, teeth: int | None = None) -> str:
        """Return the id of the part of that name or alias that fits the slot, made if none does.

        Raises:
            InputError: several have the name.
        """
        table = self._parts.setdefault(slot, {})
        found = _one(table, name, "part") or (teeth and _one(table, f"{teeth}T", "part"))
        if found:
            return found
        part = Part(id=self._fresh("part", slot, name), name=name, slot=slot, teeth=teeth)
        self.new.append(part)
        table[folded(name)] = {part.id}
        return part.id

    def _fresh(self, kind: str, *words: str) -> str:
        """Return an id that is the same for the same name, unless the log has it already."""
        id_ = f"{kind}-{_tail(kind, *map(folded, words))}"
        if id_ in self._ids:
            id_ = self._book.fresh_id()
        self._ids.add(id_)
        return id_


def _by_slot(heads: Iterable[PartHead]) -> dict[str, list[PartHead]]:
    found: dict[str, list[PartHead]] = {}
    for head in heads:
        found.setdefault(head.slot, []).append(head)
    return found


def _by_name(heads: Iterable[MachineHead | PlaceHead | PartHead]) -> dict[str, set[str]]:
    """Return ids by name and alias; a name of today wins over a former one."""
    rows = list(heads)
    table: dict[str, set[str]] = {}
    for head in rows:
        table.setdefault(folded(head.name), set()).add(head.id)
    names = frozenset(table)
    for head in rows:
        for alias in head.aliases:
            if folded(alias) not in names:
                table.setdefault(folded(alias), set()).add(head.id)
    return table


def _one(table: Mapping[str, set[str]], name: str, what: str) -> str:
    found = table.get(folded(name), set())
    if len(found) > 1:
        raise InputError(f"{len(found)} {what}s in the log are called {quoted(name)}: which?")
    return next(iter(found), "")
