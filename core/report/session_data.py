"""A session as plain data for scripts; not known is None, what was not recorded is absent."""

from __future__ import annotations

from typing import Any

import msgspec

from core.attempts import Attempt
from core.checks import rule_for
from core.report.comparing import change_data, comparison_data
from core.report.verdicts import own_verdict, verdict_sentence
from core.session import Book, Session
from core.setup import Sheet, build_letters, changes, derived, reading_words, slot_of, slot_order

__all__ = ["session_data"]


def session_data(book: Book, session: Session) -> dict[str, Any]:
    """Return everything about a session, names beside ids, with its verdict."""
    letters = build_letters(session.sheets)
    plain = msgspec.to_builtins(session, str_keys=True)
    made = own_verdict(book, session)
    before = book.sheet_before(session)
    return {
        **_about(book, session),
        "prediction": plain.get("prediction"),
        "sheets": [
            {"build": letter, "label": sheet.label, **_sheet_data(sheet)}
            for letter, sheet in zip(letters, session.sheets, strict=True)
        ],
        "changed": [change_data(c) for c in changes(before, session.sheets[0])]
        if before is not None and session.sheets
        else [],
        "checks": [
            {"words": rule_for(record).short, **fields}
            for record, fields in zip(session.checks, plain.get("checks", []), strict=True)
        ],
        "air": plain.get("air", []),
        "attempts": [_attempt(a, session, letters[a.sheet]) for a in session.attempts],
        "verdict": verdict_sentence(book, session),
        "comparison": comparison_data(made) if made is not None else None,
        "notes": list(session.notes),
        "close_out": plain.get("close_out"),
    }


def _about(book: Book, session: Session) -> dict[str, Any]:
    return {
        "id": session.id,
        "label": session.label,
        "machine": book.name_of(session.machine),
        "machine_id": session.machine,
        "place": book.name_of(session.place),
        "place_id": session.place,
        "started": session.started.isoformat(),
        "test": session.test,
        "timing": session.timing,
        "directions": list(session.directions),
        "question": session.question,
        "gain": session.gain,
        "rider": session.rider,
        "helper": session.helper,
        "state": session.state,
        "stopped_because": session.stopped_because,
    }


def _attempt(attempt: Attempt, session: Session, build: str) -> dict[str, Any]:
    return {
        "n": attempt.n,
        "build": build,
        "kind": attempt.kind,
        "value": attempt.value,
        "direction": attempt.direction,
        "at": attempt.at.isoformat() if attempt.at else None,
        "test": attempt.test or session.test,
        "timing": attempt.timing or session.timing,
        "tags": list(attempt.tags),
        "struck": attempt.strike.code if attempt.strike else None,
        "unsure": attempt.unsure,
        "note": attempt.note,
    }


def _sheet_data(sheet: Sheet) -> dict[str, Any]:
    readings = {}
    for slot_id in sorted(sheet.readings, key=slot_order):
        reading = sheet.readings[slot_id]
        readings[slot_id] = {
            "words": reading_words(slot_of(slot_id), reading),
            "state": reading.state,
            "value": reading.value,
            "unit": slot_of(slot_id).unit,
            "stale": reading.stale,
        }
    return {
        "readings": readings,
        "derived": {
            d.id: {"value": d.value, "unit": d.unit, "low": d.low, "high": d.high}
            for d in derived(sheet)
        },
    }
