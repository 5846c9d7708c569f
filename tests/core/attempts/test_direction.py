"""Which way the next attempt goes, and the names of directions."""

from __future__ import annotations

import pytest

from core.attempts import (
    Attempt,
    AttemptKind,
    Strike,
    guess_directions,
    next_direction,
    opposite,
    read_direction,
)
from core.errors import InputError

WE = ("W", "E")


def run(direction: str, struck: str = "", kind: AttemptKind = "timed") -> Attempt:
    return Attempt(
        n=1,
        value=None if kind == "aborted" else 7.3,
        direction=direction,
        kind=kind,
        strike=Strike(code=struck) if struck else None,
    )


def test_it_flips_by_itself() -> None:
    assert next_direction([], WE) == "W"
    assert next_direction([run("W")], WE) == "E"
    assert next_direction([run("W"), run("E")], WE) == "W"
    assert next_direction([run("E"), run("E")], WE) == "W"


def test_warm_up_attempts_flip_it_too() -> None:
    assert next_direction([run("W", kind="warm-up")], WE) == "E"


@pytest.mark.parametrize("code", ["CHAIN", "FALSE", "TRAFFIC"])
def test_an_attempt_that_never_got_through_is_run_again_the_same_way(code: str) -> None:
    assert next_direction([run("back"), run("out", struck=code)], ("out", "back")) == "out"


def test_an_aborted_attempt_is_run_again_the_same_way() -> None:
    assert next_direction([run("E"), run("W", kind="aborted")], WE) == "W"


@pytest.mark.parametrize("code", ["LATE", "MISREAD", "NOFIX", "WRONGMARK", "GUST", "LIFTED"])
def test_a_fault_of_the_clock_or_the_wind_leaves_the_machine_at_the_other_end(code: str) -> None:
    assert next_direction([run("W", struck=code)], WE) == "E"


def test_the_invented_day_with_the_lost_chain_runs_out_again() -> None:
    ways: list[str] = []
    attempts: list[Attempt] = []
    for number in range(1, 10):
        way = next_direction(attempts, ("out", "back"))
        ways.append(way)
        attempts.append(run(way, struck="CHAIN" if number == 7 else ""))
    assert ways == ["out", "back", "out", "back", "out", "back", "out", "out", "back"]


def test_a_choice_by_hand_wins() -> None:
    assert next_direction([run("W")], WE, override="W") == "W"
    with pytest.raises(InputError):
        next_direction([run("W")], WE, override="up")


def test_one_way_places_have_no_direction() -> None:
    assert next_direction([run("")], ()) == ""


def test_an_unknown_direction_is_taken_to_have_gone_as_expected() -> None:
    assert next_direction([run("W"), run("")], WE) == "W"


@pytest.mark.parametrize(
    ("one", "other"), [("W", "E"), ("N", "S"), ("out", "back"), ("up", "down"), ("NW", "SE")]
)
def test_opposites(one: str, other: str) -> None:
    assert opposite(one) == other
    assert opposite(other) == one
    assert opposite(one, (other, one)) == other
    assert opposite("gate") == ""
    assert opposite("gate", ("gate", "barn")) == "barn"


@pytest.mark.parametrize(
    ("text", "directions", "name"),
    [
        ("w", WE, "W"),
        ("West", WE, "W"),
        ("b", ("out", "back"), "back"),
        ("", WE, ""),
        ("?", WE, ""),
        ("-", WE, ""),
        ("Gate", ("gate end", "barn"), "gate end"),
        ("north-west", (), "NW"),
        ("OUT", (), "out"),
        ("lap", (), "lap"),
    ],
)
def test_directions_are_read_as_the_place_names_them(
    text: str, directions: tuple[str, ...], name: str
) -> None:
    assert read_direction(text, directions) == name


@pytest.mark.parametrize("text", ["up", "x", "W\x1b[0m"])
def test_other_directions_are_refused(text: str) -> None:
    with pytest.raises(InputError) as caught:
        read_direction(text, WE)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("names", "directions"),
    [
        (["E", "W", "e"], WE),
        (["east"], WE),
        (["back"], ("out", "back")),
        (["back", "out", ""], ("out", "back")),
        (["gate", "barn"], ("gate", "barn")),
        (["W", "barn"], ("W", "barn")),
        (["lap"], ()),
        ([""], ()),
        ([], ()),
    ],
)
def test_the_two_names_of_a_place_are_guessed_from_a_file(
    names: list[str], directions: tuple[str, ...]
) -> None:
    assert guess_directions(names) == directions


def test_three_directions_are_refused() -> None:
    with pytest.raises(InputError, match="two directions"):
        guess_directions(["W", "E", "N"])
