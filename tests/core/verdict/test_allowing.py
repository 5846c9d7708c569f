"""The road-load model behind the allowances: fitted, doubted, and as the one-run model has it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.attempts import find_test
from core.verdict.allowing import AIR_EXPONENT, PRIORS, facts_of
from core.verdict.allowing.coasted import Measured
from core.verdict.allowing.conditions import Conditions, Known, matched
from core.verdict.allowing.explained import PARTS, Explained, explained_between
from core.verdict.allowing.fit import Clocked, fit_road, usual
from core.verdict.allowing.model import State, air_numbers, results
from core.verdict.allowing.priors import middles
from tests.core.verdict.comparing import ran

TEST, ROLLING = find_test("0-50"), find_test("40-65")
FACTS = facts_of(ran("S01").sheets[0])
COOL, HOT = air_numbers(15.0, 1015.0, 60.0), air_numbers(34.0, 1002.0, 35.0)


def _state(**more: float) -> State:
    return replace(State(COOL.log_factor, COOL.density, 0.0, 0.003, 78.0), **more)


def _clocked(true: np.ndarray, teeth: float, test: str, state: State) -> Clocked:
    sheet = ran("S01", sheets=({"final_sprocket_teeth": teeth},)).sheets[0]
    facts, row = facts_of(sheet), find_test(test)
    both = results(row, [facts] * 2, np.tile(true, (2, 1)), [state] * 2, [1.0, -1.0])
    return Clocked(row, facts, state, (1.0, -1.0), float(both.mean()), 0.01)


def _day(
    temperature: float = 15.0, wind: float = 0.0, load: float = 78.0, sd: float = 0.0
) -> Conditions:
    return Conditions(
        temperature=Known(temperature, sd, True),
        pressure=Known(1012.0, sd, True),
        humidity=Known(60.0, sd, True),
        wind=Known(wind, sd, True),
        slope=Known(0.3, 0.0, True),
        load=Known(load, sd, True),
        age=0.3,
    )


def _between(a: Conditions, b: Conditions, **more: bool) -> Explained:
    fit = usual("")
    found = explained_between(TEST, FACTS, fit, a, b, 7.5, (1.0, -1.0), same_place=True, **more)
    assert found is not None
    return found


def test_a_machine_is_found_again_from_what_it_clocked() -> None:
    """Torque well, drag hardly: several sprockets and tests, made by the model itself."""
    true = np.array(middles()) + np.array([0.2, -0.15, 0.1, 0.2, -0.2, 0.0, 0.0, 0.0, 0.1])
    clocked = [
        _clocked(true, teeth, test, state)
        for teeth, test in ((60.0, "0-50"), (66.0, "0-50"), (66.0, "40-65"), (60.0, "80m"))
        for state in (_state(), _state(log_factor=HOT.log_factor, density=HOT.density))
    ]
    found = fit_road(clocked)
    assert found.converged
    assert found.sessions == 8
    doubt = np.sqrt((found.root**2).sum(axis=1))
    assert np.all(np.abs(found.unknowns - true) < 2.5 * doubt)
    assert doubt[0] < 0.5 * PRIORS[0].share
    assert abs(float(found.unknowns[0] - true[0])) < 0.08
    assert doubt[-1] <= AIR_EXPONENT.share


def test_coast_downs_tell_rolling_and_drag_that_times_hardly_do() -> None:
    """A measured drag area is taken over within its own doubt, and narrows the fit."""
    true = np.array(middles()) + np.array([0.1, 0.0, 0.0, -0.3, 0.3, 0.0, 0.0, 0.0, 0.0])
    clocked = [_clocked(true, teeth, "0-50", _state()) for teeth in (60.0, 66.0)]
    measured = [
        Measured("rolling", float(np.exp(true[3])), 0.05),
        Measured("drag_area", float(np.exp(true[4])), 0.04),
    ]
    without, found = fit_road(clocked), fit_road(clocked, measured)
    assert found.converged
    doubts = [np.sqrt((fit.root**2).sum(axis=1)) for fit in (without, found)]
    for row, share in ((3, 0.05), (4, 0.04)):
        assert abs(float(found.unknowns[row] - true[row])) < share
        assert abs(float(without.unknowns[row] - true[row])) > 2.0 * share
        assert doubts[1][row] <= share < doubts[0][row]
    assert found.sentence == "Fitted to 2 means of this machine and to its coast-downs."


def test_it_does_not_learn_from_what_no_machine_does() -> None:
    """Ten times the usual time on its sheet: the usual numbers stay, with their whole doubt."""
    slow = replace(_clocked(np.array(middles()), 66.0, "0-50", _state()), value=75.0)
    found = fit_road([slow])
    assert not found.converged
    assert "does not fit its sheet" in found.sentence or "does not settle" in found.sentence
    assert np.allclose(found.root, usual("").root)


def test_the_parts_add_up_and_turn_with_the_sides() -> None:
    """Air, wind, slope and mass sum to the whole; changed over, each is its opposite."""
    a, b = _day(18.0, 0.5), _day(34.0, 1.5, 84.0)
    there, back = _between(a, b), _between(b, a)
    assert there.value == pytest.approx(sum(part.value for part in there.parts))
    assert [part.name for part in there.parts] == list(PARTS)
    for name in ("air", "wind", "mass"):
        assert there.part(name).value > 0.0
        assert back.part(name).value == pytest.approx(-there.part(name).value, rel=0.15)
    assert there.part("slope").value == pytest.approx(0.0, abs=1e-9)


def test_sizes_are_those_the_trade_knows() -> None:
    """0-50 in about 7 s: 16 degrees and 10 hPa cost 0.46 s, a kilogram 0.06 s, within a third.

    2 m/s of wind leave a pair slower by 0.05 s on a strong machine to 0.12 s on a weak one.
    Source: point-mass sketches of two machines; common practice, no source.
    """
    hot = _between(_day(18.0), replace(_day(34.0), pressure=Known(1002.0, 0.0, True)))
    assert hot.part("air").value == pytest.approx(0.46, rel=0.34)
    heavy = _between(_day(), _day(load=84.0))
    assert heavy.part("mass").value / 6.0 == pytest.approx(0.06, rel=0.34)
    windy = _between(_day(), _day(wind=2.0))
    assert 0.04 < windy.part("wind").value < 0.13


def test_every_doubt_widens_the_range() -> None:
    """Doubt of the readings on top of that of the machine's numbers."""
    sharp, blunt = (_between(_day(18.0, sd=sd), _day(34.0, sd=sd)) for sd in (0.0, 1.0))
    assert blunt.sd > sharp.sd > 0.0
    assert blunt.value == pytest.approx(sharp.value, rel=0.1)


def test_wind_of_unknown_direction_leaves_a_pair_slower() -> None:
    """Doubt about the wind is not only width: into the wind costs more than down it gives."""
    still, doubtful = _day(), replace(_day(), wind=Known(0.0, 2.0, False))
    assert _between(still, doubtful).part("wind").value > 0.01


def test_limits_of_the_power_factor_are_named_not_hidden() -> None:
    """5 °C is below what the standard covers; the numbers are given all the same."""
    cold = air_numbers(5.0, 1025.0, 80.0)
    assert any("temperature" in words for words in cold.outside)
    assert cold.log_factor < 0.0


def test_what_one_side_does_not_know_is_the_same_on_the_other() -> None:
    """No temperature on A: B's stands for both, with an ordinary day's doubt on both."""
    blind = replace(_day(), temperature=Known(15.0, 7.0, False))
    a, b = matched(blind, _day(30.0, sd=0.7), same_rider=True)
    assert (a.temperature.value, b.temperature.value) == (30.0, 30.0)
    assert (a.temperature.sd, b.temperature.sd) == (7.0, 7.0)
    a, b = matched(blind, _day(30.0, sd=0.7), same_rider=True, same_day=True)
    assert (a.temperature.sd, b.temperature.sd) == (0.0, 0.0)


def test_the_model_rolls_and_coasts_and_goes_flat_out() -> None:
    """Every modelled shape gives a number that thin air makes worse, but for coasting."""
    thin = _state(log_factor=0.05, density=1.1)
    true = np.array(middles())
    for name, worse in (("40-65", True), ("80m", True), ("top", False), ("coast-40-15", True)):
        row = find_test(name)
        normal, high = (
            float(results(row, [FACTS], true[None, :], [state], [1.0])[0])
            for state in (_state(grade=0.0), replace(thin, grade=0.0))
        )
        assert np.isfinite(normal)
        assert (high > normal) is worse
