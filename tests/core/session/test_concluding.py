"""The close-out in parts, while the session is open."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.errors import BlockedError
from core.session import CloseOut, close, undo
from core.session.closing import conclude
from tests.making import new_book, ready_session


def test_each_part_is_set_by_itself_and_survives_the_close(tmp_path: Path) -> None:
    """What is not told stays; each part is taken back by itself."""
    book, clock = new_book(tmp_path)
    session = ready_session(book, clock)
    session = conclude(session, clock(), learnt="66T is quicker")
    session = conclude(session, clock(), decision="keep", compared_with="x")
    session = conclude(session, clock(), because="A-B-A", following="rockers")
    assert session.close_out == CloseOut(
        learnt="66T is quicker",
        decision="keep",
        because="A-B-A",
        next="rockers",
        compared_with="x",
    )
    assert session.trail[-1].words == "because: A-B-A, next: rockers"
    back = undo(session, clock())
    assert back.close_out == CloseOut(learnt="66T is quicker", decision="keep", compared_with="x")
    closed = close(session, session.close_out or CloseOut(), clock())
    assert closed.close_out is not None
    assert closed.close_out.at == clock()
    with pytest.raises(BlockedError):
        conclude(closed, clock(), learnt="more")
