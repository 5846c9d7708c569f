"""The user's own key map: what can be used of it, and a sentence for what cannot."""

from __future__ import annotations

import pytest

from tui.commands import checked_keys, key_name


def test_own_keys_are_taken_over() -> None:
    """A character or Textual's name of a key, several with commas between them."""
    checked = checked_keys({"log.new": "g", "log.filter": "f,/"})
    assert dict(checked.keys) == {"log.new": "g", "log.filter": "f,slash"}
    assert checked.complaints == ()


def test_two_commands_may_change_places() -> None:
    """What both give up is free for the other."""
    checked = checked_keys({"log.new": "c", "log.compare": "n"})
    assert dict(checked.keys) == {"log.new": "c", "log.compare": "n"}


def test_a_key_that_is_taken_is_refused_and_said() -> None:
    """The usual key stays."""
    checked = checked_keys({"log.new": "c"})
    assert dict(checked.keys) == {}
    assert checked.complaints == ("Key map: c is not used for “New”: c is “Compare” there.",)


def test_a_key_that_falls_back_may_clash_in_turn() -> None:
    """New wants c, Compare wants a key terminals cannot send and keeps c: both stay as usual."""
    checked = checked_keys({"log.new": "c", "log.compare": "ctrl+m"})
    assert dict(checked.keys) == {}
    assert len(checked.complaints) == 2


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ({"log.nowhere": "a"}, "there is no command “log.nowhere”"),
        ({"log.new": ""}, "has no key"),
        ({"log.new": "ctrl+m"}, "terminals send it for enter"),
        ({"log.new": "ctrl+left_square_bracket"}, "terminals send it for esc"),
        ({"log.new": "ctrl+["}, "terminals send it for esc"),
        ({"log.new": "bannana"}, "there is no key of that name"),
        ({"log.new": "alt+n"}, "typed into a field"),
        ({"app.quit": "q"}, "it would leave from within a field"),
        ({"x" * 500: "a"}, "…”"),
    ],
)
def test_what_cannot_be_used_is_said_in_one_sentence(entry: dict[str, str], words: str) -> None:
    """Whatever is in the file, the app starts with the usual keys for the rest."""
    checked = checked_keys(entry)
    assert dict(checked.keys) == {}
    assert len(checked.complaints) == 1
    assert words in checked.complaints[0]
    assert len(checked.complaints[0]) < 120


@pytest.mark.parametrize(
    ("key", "shown"),
    [
        ("question_mark", "?"),
        ("slash", "/"),
        ("escape", "esc"),
        ("ctrl+q", "ctrl+q"),
        ("pageup", "PgUp"),
        ("n", "n"),
        ("f1", "f1"),
    ],
)
def test_keys_are_written_for_a_person(key: str, shown: str) -> None:
    """Not as a program names them."""
    assert key_name(key) == shown
