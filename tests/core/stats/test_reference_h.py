"""Every published or independently computed case of tests/data/reference/topic_h.json, by table.

Each case names its source and how it was checked; a case whose quantity no function here computes
fails, so that none is passed over in silence.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from itertools import chain, repeat
from math import inf
from pathlib import Path
from typing import Any

import pytest

from core import stats
from core.errors import BackToBackError, UnknownInputError
from core.stats import Spread

FOLDER = Path(__file__).parents[2] / "data" / "reference"
CASES: list[dict[str, Any]] = json.loads((FOLDER / "topic_h.json").read_text("utf-8"))["cases"]
Inputs = dict[str, Any]
Answers = dict[str, Any]


def univariate(given: Inputs) -> Answers:
    data = given["data"]
    if isinstance(data, dict):
        assert data["rule"] == "1000000.2 then (1000000.1,1000000.3) x 500"
        data = [1000000.2, *chain.from_iterable(repeat((1000000.1, 1000000.3), 500))]
    found = stats.summarize(data)
    return {"mean": found.mean, "sd": found.sd}


def grubbs(given: Inputs) -> Answers:
    data, alpha = given["data"], given["alpha"]
    g = stats.grubbs(data)
    assert g is not None
    critical = stats.grubbs_critical(len(data), alpha)
    return {
        "G": g,
        "critical_two_sided": critical,
        "critical_one_sided": stats.grubbs_critical(len(data), alpha, two_sided=False),
        "flag_two_sided": g > critical,
        "G_max_possible": stats.grubbs_largest(len(data)),
    }


def grubbs_table(given: Inputs) -> Answers:
    return {
        f"alpha_{alpha}": [stats.grubbs_critical(n, alpha) for n in given["n"]]
        for alpha in (0.05, 0.01)
    }


def dixon(given: Inputs) -> Answers:
    n = len(given["data"])
    critical = {f"critical_{p}pct": stats.dixon_critical(n, p / 100) for p in (10, 5, 1)}
    return {"Q": stats.dixon_r10(given["data"]), **critical}


def modified_z(given: Inputs) -> Answers:
    scores = stats.modified_z(given["data"])
    return {
        "median": stats.median(given["data"]),
        "MAD": stats.mad(given["data"]),
        "largest_abs_M": None if scores is None else max(map(abs, scores)),
    }


def repeatability(given: Inputs) -> Answers:
    found = stats.pooled_repeatability(given["sessions"])
    return {
        "s_r": found.s_r,
        "dof": found.dof,
        "repeatability_limit_2.8": found.limit,
        "repeatability_limit_t": found.limit_t,
    }


def between(given: Inputs) -> Answers:
    found = stats.between_sessions(given["sessions"])
    own = {"s_r": found.s_r, "between_sd": found.between_sd}
    return {**own, "variance_estimate_negative": found.negative}


def critical_difference(given: Inputs) -> Answers:
    spread = Spread(given["s_r"], given["dof"], given["dof"])
    n_1, n_2 = given["n1"], given["n2"]
    return {
        "CD_ISO5725_6": stats.critical_difference(given["s_r"], n_1, n_2),
        "CD_student_t": stats.critical_difference_t(spread, n_1, n_2),
    }


def welch(given: Inputs) -> Answers:
    if "A" in given:
        found = stats.welch(given["A"], given["B"])
    else:
        found = stats.welch_from_summary(
            *(given[key] for key in ("mean1", "sd1", "n1", "mean2", "sd2", "n2"))
        )
    return {"difference": found.value, "dof": found.dof, "low": found.low, "high": found.high}


def shift_with_prior(given: Inputs) -> Answers:
    found = stats.posterior_shift(
        given["difference_of_means"],
        Spread(given["s_r"], inf, 0),
        given["nA"],
        given["nB"],
        day_sd=given["between_day_sd (one day each)"],
        prior_sd=given["prior_sd"],
    )
    return {"posterior_mean": found.mean, "posterior_sd": found.sd, "P(shift<0)": found.below_zero}


def shift_flat(given: Inputs) -> Answers:
    spread = Spread(given["s_r"], given["dof"], given["dof"])
    found = stats.posterior_shift(given["difference_of_means"], spread, given["nA"], given["nB"])
    low, high = found.low, found.high
    return {"P(shift<0)": found.below_zero, "interval95_low": low, "interval95_high": high}


def sample_size(given: Inputs) -> Answers:
    d, wanted, alpha = given["delta_over_sigma"], given["power"], given["alpha"]
    n = stats.sample_size(d, wanted, alpha)
    return {
        "n_sigma_known": stats.sample_size_known(d, wanted, alpha),
        "n_sigma_unknown": n,
        "power_at_that_n_unknown": stats.power(d, 1.0, 2 * (n - 1), n, n, alpha),
    }


def aba(given: Inputs) -> Answers:
    a1, b, a2 = given["A1"], given["B"], given["A2"]
    own = stats.pooled_repeatability([a1, b, a2])
    found = stats.aba(a1, b, a2, given["block_times"], Spread(own.s_r, own.dof, own.dof))
    return {
        "difference": found.difference.value,
        "variance_factor (x sigma^2)": found.variance_factor,
        "drift_A1_to_A2": found.drift,
        "s_r": own.s_r,
        "standard_error": found.difference.se,
    }


def longley(given: Inputs) -> Answers:
    data = json.loads((FOLDER / given["dataset"]).read_text("utf-8"))
    found = stats.least_squares([[1.0, *row] for row in data["x"]], data["y"])
    return {
        "coefficients": found.coefficients,
        "standard_errors": found.standard_errors,
        "residual_sd": found.residual_sd,
        "r_squared": found.r_squared,
    }


def through_origin(given: Inputs) -> Answers:
    found = stats.through_origin(given["x"], given["y"])
    return {
        "b1": found.coefficients[0],
        "se_b1": found.standard_errors[0],
        "residual_sd": found.residual_sd,
    }


def identifiability(given: Inputs) -> Answers:
    found = stats.least_squares(given["X"], given["y"])
    told = [found.is_estimable(contrast) for contrast in given["contrasts"]]
    values: list[stats.Estimate | None] = []
    for contrast, ok in zip(given["contrasts"], told, strict=True):
        if ok:
            values.append(found.contrast(contrast))
        else:
            with pytest.raises(UnknownInputError):
                found.contrast(contrast)
            values.append(None)
    return {
        "rank": found.rank,
        "n_null": found.n_null,
        "estimable": told,
        "contrast_values": [None if v is None else v.value for v in values],
        "contrast_se": [None if v is None else v.se for v in values],
    }


def normal_prior(given: Inputs) -> Answers:
    priors = [given["prior_sd_intercept"], *[given["prior_sd_effects"]] * 3]
    found = stats.normal_prior(given["X"], given["y"], given["sigma"], priors)
    pair = found.contrast([0, 1, 1, 0])
    return {
        "posterior_mean": found.mean,
        "posterior_sd": found.sd,
        "sum_of_confounded_pair": pair.value,
        "sd_of_sum": pair.se,
    }


def d_optimal(given: Inputs) -> Answers:
    found = stats.d_optimal(given["candidate_rows (without the intercept column)"], given["runs"])
    return {"max_det_XtX": found.determinant}


def several(given: Inputs) -> Answers:
    p_values, alpha = given["p_values"], given["alpha"]
    held = stats.holm(p_values, alpha)
    return {
        "holm_adjusted": held.adjusted,
        "holm_reject": held.found,
        "bh_reject": stats.benjamini_hochberg(p_values, alpha).found,
        "familywise_risk_if_uncorrected": stats.familywise_risk(len(p_values), alpha),
    }


def best_of(given: Inputs) -> Answers:
    found = [stats.best_of(n) for n in given["n"]]
    return {"expected_max": [b.expected for b in found], "sd_of_max": [b.sd for b in found]}


def record_bias(given: Inputs) -> Answers:
    found = stats.record_bias(given["true_mean"], given["s_r"], given["n1"], given["n2"])
    return {
        "expected_best_n1": found.best_1,
        "expected_best_n2": found.best_2,
        "spurious_gain": found.spurious_gain,
    }


COMPUTE: dict[str, Callable[[Inputs], Answers]] = {
    "mean and standard deviation (n-1)": univariate,
    "Grubbs test, one outlier": grubbs,
    "Grubbs critical values, two-sided": grubbs_table,
    "Dixon r10 (Q) two-sided": dixon,
    "modified z-score": modified_z,
    "pooled within-session repeatability": repeatability,
    "pooled repeatability": repeatability,
    "between-session standard deviation (one-way random effects, balanced)": between,
    "critical difference between two means, one place, one method": critical_difference,
    "Welch interval for mean(B) - mean(A), 95 %": welch,
    "posterior of a mean shift, known repeatability, between-day component, normal prior": (
        shift_with_prior
    ),
    "posterior of a mean shift, pooled s_r with nu degrees of freedom, flat prior": shift_flat,
    "runs per side to detect a difference of delta/sigma, two-sided": sample_size,
    "A-B-A drift-corrected difference": aba,
    "linear regression": longley,
    "regression through the origin": through_origin,
    "identifiability of part effects": identifiability,
    "Bayesian linear model (= ridge) with normal prior on effects": normal_prior,
    "D-optimal determinant": d_optimal,
    "several comparisons at once": several,
    "expected best of n runs (standard normal, in sigma)": best_of,
    "record bias": record_bias,
}
"""Function for each quantity, as :func:`kind` shortens it."""


def kind(case: dict[str, Any]) -> str:
    """Return the quantity without its data set or example: 'D-optimal determinant'."""
    return re.split(": |, NIST", case["quantity"])[0]


def assert_close(found: Any, want: Any, how: dict[str, Any], where: str) -> None:
    """Compare one number, flag, blank or list of these within the case's own tolerance."""
    if isinstance(want, list):
        assert len(found) == len(want), where
        for index, (one, other) in enumerate(zip(found, want, strict=True)):
            assert_close(one, other, how, f"{where}[{index}]")
    elif want is None or isinstance(want, bool):
        assert found is want, f"{where}: {found} for {want}"
    else:
        room = how["tol_rel"] * abs(want) if "tol_rel" in how else how["tol_abs"]
        assert found is not None, where
        assert abs(found - want) <= room, f"{where}: {found!r} for {want!r} within {room:g}"


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_case(case: dict[str, Any]) -> None:
    compute = COMPUTE.get(kind(case))
    assert compute is not None, f"no function computes {case['quantity']!r}"
    assert case["source"], "a case without a source is no outside check"
    if case["expected"].get("error"):
        with pytest.raises(BackToBackError) as refusal:
            compute(case["inputs"])
        assert str(refusal.value).endswith(".")
        return
    found = compute(case["inputs"])
    assert set(found) == set(case["expected"])
    for name, expected in case["expected"].items():
        assert_close(found[name], expected["value"], expected, f"{case['id']} {name}")


def test_every_quantity_of_the_table_is_in_the_file() -> None:
    assert set(map(kind, CASES)) == set(COMPUTE)
    assert len({case["id"] for case in CASES}) == len(CASES) == 36
