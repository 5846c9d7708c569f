"""Effects that are told apart: published cases, the plain solution, and a club of known effects."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.special import stdtr

from core.errors import UnknownInputError
from core.stats import Block, Contrast, Usual, lay_out, least_squares, mixed, normal_prior
from tests.core.stats.club import Club, contrasts, covered, parted

CASES = {
    case["id"]: case
    for case in json.loads(
        (Path(__file__).parents[2] / "data" / "reference" / "topic_h.json").read_text("utf-8")
    )["cases"]
}
SHARP = {"day_sd": 1e-4, "day_dof": 1e7, "dof": 1e9}


def _blocks(x: list[list[float]], y: list[float], names: list[str]) -> list[Block]:
    """One machine, a day for each row; each column is a factor that is on or off."""
    made = []
    for i, (row, value) in enumerate(zip(x, y, strict=True)):
        levels = tuple((n, "on" if on else "off") for n, on in zip(names, row[1:], strict=True))
        made.append(Block("m", f"d{i}", value, 1.0, levels))
    return made


def _on(names: list[str], weights: list[float]) -> Contrast:
    return {
        (name, level): sign * weight
        for name, weight in zip(names, weights, strict=True)
        for level, sign in (("on", 1.0), ("off", -1.0))
    }


@pytest.mark.parametrize("case_id", ["H-p28", "H-p29"])
def test_what_can_be_told_is_what_the_published_cases_say(case_id: str) -> None:
    """Parts always changed together, and a ladder of changes; values without a prior."""
    case = CASES[case_id]
    given, expected = case["inputs"], case["expected"]
    names = given["columns"][1:]
    usual = Usual(sd=0.03, effect_sd=100.0, **SHARP)
    found = parted(_blocks(given["X"], given["y"], names), usual)
    asked = [_on(names, weights[1:]) for weights in given["contrasts"]]
    assert list(found.estimable(asked)) == expected["estimable"]["value"]
    for contrast, value in zip(asked, expected["contrast_values"]["value"], strict=True):
        if value is None:
            with pytest.raises(UnknownInputError):
                found.known([contrast])
        else:
            assert found.known([contrast])[0].value == pytest.approx(value, abs=1e-6)
    assert found.tied() == ((("filter", "pipe"),) if case_id == "H-p28" else ())


def test_the_prior_is_the_ridge_of_the_published_case() -> None:
    """The sum of a pair never tested apart, with the range its prior leaves."""
    case = CASES["H-p30"]
    given, expected = case["inputs"], case["expected"]
    names = ["pipe", "filter", "cam"]
    usual = Usual(sd=given["sigma"], effect_sd=given["prior_sd_effects"], **SHARP)
    found = parted(_blocks(given["X"], given["y"], names), usual)
    pair, cam = found.known([_on(names, [1.0, 1.0, 0.0]), _on(names, [0.0, 0.0, 1.0])])
    assert pair.value == pytest.approx(expected["sum_of_confounded_pair"]["value"], abs=1e-5)
    assert pair.sd == pytest.approx(expected["sd_of_sum"]["value"], rel=1e-3)
    assert cam.value == pytest.approx(expected["posterior_mean"]["value"][3], abs=1e-5)
    assert cam.sd == pytest.approx(expected["posterior_sd"]["value"][3], rel=1e-3)


def test_days_that_differ_are_a_prior_on_each_day() -> None:
    """With both spreads all but known: the same as plain rows with a column for each day."""
    blocks = list(Club(1, 10, np.random.default_rng(8), slots=3, sessions=14).blocks())
    blocks = [Block(b.machine, b.day, b.value, b.weight, b.levels) for b in blocks]
    sd, day, effect = 0.08, 0.2, 0.6
    found = parted(blocks, Usual(sd=sd, dof=1e9, day_sd=day, day_dof=1e7, effect_sd=effect))
    days = sorted({b.day for b in blocks})
    rows = [
        [1.0, *(float(c in b.levels) for c in found.columns), *(float(b.day == d) for d in days)]
        for b in blocks
    ]
    prior = [1e5, *(effect / 2**0.5 for _ in found.columns), *(day for _ in days)]
    belief = normal_prior(
        rows, [b.value for b in blocks], [sd / b.weight**0.5 for b in blocks], prior
    )
    at = {column: index + 1 for index, column in enumerate(found.columns)}
    asked = contrasts(found)
    told = [c for c, ok in zip(asked, found.estimable(asked), strict=True) if ok]
    assert told
    for contrast, known in zip(told, found.known(told), strict=True):
        weights = [0.0] * len(rows[0])
        for column, weight in contrast.items():
            weights[at[column]] = weight
        plain = belief.contrast(weights)
        assert known.value == pytest.approx(plain.value, abs=1e-5)
        assert known.sd == pytest.approx(plain.se, rel=1e-3)


@pytest.mark.parametrize("seed", range(12))
def test_no_number_for_what_the_null_space_of_the_whole_matrix_hides(seed: int) -> None:
    """Small clubs full of parts changed together, against singular values of all the rows."""
    rng = np.random.default_rng(seed)
    club = Club(int(rng.integers(1, 4)), 12, rng, slots=4, sessions=int(rng.integers(2, 6)))
    blocks = list(club.blocks())
    found = parted(blocks)
    machines = sorted({b.machine for b in blocks})
    days = sorted({(b.machine, b.day) for b in blocks if b.moment is not None})
    rows = [
        [float(c in b.levels) for c in found.columns]
        + [float(b.machine == m) for m in machines]
        + [(b.moment or 0.0) * ((b.machine, b.day) == d) for d in days]
        for b in blocks
    ]
    plain = least_squares(rows, [b.value for b in blocks])
    asked = contrasts(found)
    for contrast, ok in zip(asked, found.estimable(asked), strict=True):
        weights = [contrast.get(column, 0.0) for column in found.columns]
        assert ok == plain.is_estimable(weights + [0.0] * (len(machines) + len(days)))
        if not ok:
            with pytest.raises(UnknownInputError):
                found.known([contrast])
            factor = next(iter(contrast))[0]
            assert any(factor in tied for tied in found.tied())


def test_ranges_of_a_simulated_club_hold_the_truth() -> None:
    """95 in 100, counted over clubs of many machines and of few (the table has more of them)."""
    hits = told = 0
    for seed in range(28):
        rng = np.random.default_rng(seed)
        club = Club(4, 14, rng) if seed % 7 == 0 else Club(36, 40, rng, sessions=6)
        hit, count, _ = covered(club, parted(list(club.blocks())))
        hits, told = hits + hit, told + count
    assert told > 550
    assert 0.93 <= hits / told <= 0.97


def test_the_ends_of_a_mixture_leave_one_in_forty_on_either_side() -> None:
    """Also where its parts are far from each other and of very different widths."""
    rng = np.random.default_rng(1)
    means, variances = rng.normal(0.0, 3.0, (40, 11)), rng.uniform(0.001, 9.0, (40, 11)) ** 2
    chance = rng.dirichlet(np.ones(11))
    for row, known in enumerate(mixed(means, variances, chance, 5.0)):
        for end, share in ((known.low, 0.025), (known.high, 0.975)):
            below = stdtr(5.0, (end - means[row]) / np.sqrt(variances[row])) @ chance
            assert below == pytest.approx(share, abs=1e-6)


def test_nothing_that_varied_is_told_so() -> None:
    blocks = [Block("m", f"d{i}", 8.0, 4.0, ()) for i in range(3)]
    assert lay_out(blocks).columns == ()
    with pytest.raises(UnknownInputError):
        parted(blocks)


def test_equal_values_give_narrow_ranges_and_no_broken_numbers() -> None:
    """All means equal and no scatter at all: the least spread keeps the range open."""
    blocks = [
        Block("m", f"d{i}", 8.0, 4.0, (("clutch", "ab"[i % 2]),), None, 0.0, 3) for i in range(6)
    ]
    usual = Usual(sd=0.08, dof=4, day_sd=0.16, day_dof=3, effect_sd=2.0, least_sd=0.003)
    known = parted(blocks, usual).known([{("clutch", "a"): -1.0, ("clutch", "b"): 1.0}])[0]
    assert known.low < 0.0 < known.high
    assert known.value == pytest.approx(0.0, abs=1e-12)
