"""Check-case quantities of topic H, answered by core.stats."""

from __future__ import annotations

import json
import re
from itertools import chain, repeat
from math import inf
from pathlib import Path

from core import stats
from core.errors import UnknownInputError
from tests.core.reference.reading import Answers, Inputs, Rule

_FOLDER = Path(__file__).parents[2] / "data" / "reference"


def _data(given: Inputs) -> list[float]:
    data = given.get("data")
    if not isinstance(data, dict):
        return [float(value) for value in data]
    numbers = re.findall(r"[\d.]+", data["rule"])
    first, low, high = (float(text) for text in numbers[:3])
    return [first, *chain.from_iterable(repeat((low, high), int(numbers[3])))]


def univariate(given: Inputs) -> Answers:
    def scatter() -> float:
        if (sd := stats.summarize(_data(given)).sd) is None:
            raise UnknownInputError("Unknown: one value has no scatter.")
        return sd

    return {"mean": lambda: stats.summarize(_data(given)).mean, "sd": scatter}


def grubbs(given: Inputs) -> Answers:
    data, alpha = _data(given), given.get("alpha")
    n = len(data)
    return {
        "g": lambda: stats.grubbs(data),
        "critical_two_sided": lambda: stats.grubbs_critical(n, alpha),
        "critical_one_sided": lambda: stats.grubbs_critical(n, alpha, two_sided=False),
        "flag_two_sided": lambda: (stats.grubbs(data) or 0.0) > stats.grubbs_critical(n, alpha),
        "g_max_possible": lambda: stats.grubbs_largest(n),
    }


def grubbs_table(given: Inputs) -> Answers:
    def column(alpha: str = "0.05") -> list[float]:
        return [stats.grubbs_critical(n, float(alpha)) for n in given.get("n")]

    return {r"alpha_([\d.]+)": column}


def dixon(given: Inputs) -> Answers:
    data = _data(given)

    def limit(percent: str = "5") -> float:
        return stats.dixon_critical(len(data), float(percent) / 100)

    return {"q": lambda: stats.dixon_r10(data), r"critical_(\d+)pct": limit}


def modified_z(given: Inputs) -> Answers:
    def largest() -> float | None:
        scores = stats.modified_z(_data(given))
        return None if scores is None else max(abs(score) for score in scores)

    return {
        "median": lambda: stats.median(_data(given)),
        "mad": lambda: stats.mad(_data(given)),
        "largest_abs_m": largest,
    }


def pooled(given: Inputs) -> Answers:
    def found() -> stats.Repeatability:
        return stats.pooled_repeatability(given.get("sessions"))

    return {
        "s_r": lambda: found().s_r,
        "dof": lambda: found().dof,
        "repeatability_limit_2.8": lambda: found().limit,
        "repeatability_limit_t": lambda: found().limit_t,
    }


def between(given: Inputs) -> Answers:
    def found() -> stats.BetweenSessions:
        return stats.between_sessions(given.get("sessions"))

    return {
        "s_r": lambda: found().s_r,
        "between_sd": lambda: found().between_sd,
        "variance_estimate_negative": lambda: found().negative,
    }


def critical(given: Inputs) -> Answers:
    s_r, n1, n2 = given.get("s_r"), given.get("n1"), given.get("n2")

    def student() -> float:
        spread = stats.Spread(s_r, given.get("dof"), given.get("dof"))
        return stats.critical_difference_t(spread, n1, n2)

    return {
        "cd_iso5725_6": lambda: stats.critical_difference(s_r, n1, n2),
        "cd_student_t": student,
    }


def welch(given: Inputs) -> Answers:
    def found() -> stats.Difference:
        if given.has("a"):
            return stats.welch(given.get("a"), given.get("b"))
        names = ("mean1", "sd1", "n1", "mean2", "sd2", "n2")
        return stats.welch_from_summary(*map(given.get, names))

    return {
        "difference": lambda: found().value,
        "dof": lambda: found().dof,
        "low": lambda: found().low,
        "high": lambda: found().high,
    }


def posterior(given: Inputs) -> Answers:
    def found() -> stats.Shift:
        dof = given.get("dof", default=inf)
        return stats.posterior_shift(
            given.get("difference_of_means"),
            stats.Spread(given.get("s_r"), dof, dof),
            given.get("na"),
            given.get("nb"),
            day_sd=given.get("between_day_sd", default=0.0),
            prior_sd=given.get("prior_sd", default=inf),
        )

    return {
        "posterior_mean": lambda: found().mean,
        "posterior_sd": lambda: found().sd,
        "p_shift_0": lambda: found().below_zero,
        "interval95_low": lambda: found().low,
        "interval95_high": lambda: found().high,
    }


def runs(given: Inputs) -> Answers:
    delta, alpha, power = given.get("delta_over_sigma"), given.get("alpha"), given.get("power")

    def reached(n: int) -> float:
        return stats.power(delta, 1.0, 2 * n - 2, n, n, alpha)

    return {
        "n_sigma_known": lambda: stats.sample_size_known(delta, power, alpha),
        "n_sigma_unknown": lambda: stats.sample_size(delta, power, alpha),
        "power_at_that_n_unknown": lambda: reached(stats.sample_size(delta, power, alpha)),
    }


def swapped(given: Inputs) -> Answers:
    a1, b, a2 = (given.get(name) for name in ("a1", "b", "a2"))

    def own() -> stats.Repeatability:
        return stats.pooled_repeatability([a1, b, a2])

    def found() -> stats.DriftRemoved:
        spread = stats.Spread(own().s_r, own().dof, own().dof)
        return stats.aba(a1, b, a2, given.get("block_times"), spread)

    return {
        "difference": lambda: found().difference.value,
        "variance_factor": lambda: found().variance_factor,
        "drift_a1_to_a2": lambda: found().drift,
        "s_r": lambda: own().s_r,
        "standard_error": lambda: found().difference.se,
    }


def _regression(given: Inputs) -> tuple[list[list[float]], list[float]]:
    if given.has("x") and given.has("y") and not given.has("dataset"):
        return [[value] for value in given.get("x")], given.get("y")
    if "longley" not in given.get("dataset").casefold():
        raise AssertionError("no data set of that name is held")
    held = json.loads((_FOLDER / "longley.json").read_text("utf-8"))
    return [[1.0, *row] for row in held["x"]], held["y"]


def regression(given: Inputs) -> Answers:
    def fit() -> stats.Fit:
        return stats.least_squares(*_regression(given))

    return {
        "coefficients": lambda: fit().coefficients,
        "standard_errors": lambda: fit().standard_errors,
        "b1": lambda: fit().coefficients[0],
        "se_b1": lambda: fit().standard_errors[0],
        "residual_sd": lambda: fit().residual_sd,
        "r_squared": lambda: fit().r_squared,
    }


def identifiability(given: Inputs) -> Answers:
    contrasts = given.get("contrasts")

    def fit() -> stats.Fit:
        return stats.least_squares(given.get("x"), given.get("y"))

    def told(what: str) -> list[float | None]:
        known = fit()
        return [
            getattr(known.contrast(c), what) if known.is_estimable(c) else None for c in contrasts
        ]

    return {
        "rank": lambda: fit().rank,
        "n_null": lambda: fit().n_null,
        "estimable": lambda: [fit().is_estimable(c) for c in contrasts],
        "contrast_values": lambda: told("value"),
        "contrast_se": lambda: told("se"),
    }


def ridge(given: Inputs) -> Answers:
    x = given.get("x")

    def belief() -> stats.Belief:
        effects = [given.get("prior_sd_effects")] * (len(x[0]) - 1)
        priors = [given.get("prior_sd_intercept"), *effects]
        return stats.normal_prior(x, given.get("y"), given.get("sigma"), priors)

    def together() -> stats.Estimate:
        pair = stats.never_apart(x)[0]
        return belief().contrast([float(i in pair) for i in range(len(x[0]))])

    return {
        "posterior_mean": lambda: belief().mean,
        "posterior_sd": lambda: belief().sd,
        "sum_of_confounded_pair": lambda: together().value,
        "sd_of_sum": lambda: together().se,
    }


def designs(given: Inputs) -> Answers:
    return {
        "max_det_xtx": lambda: (
            stats.d_optimal(given.get("candidate_rows"), given.get("runs")).determinant
        )
    }


def several(given: Inputs) -> Answers:
    p, alpha = given.get("p_values"), given.get("alpha")
    return {
        "holm_adjusted": lambda: stats.holm(p, alpha).adjusted,
        "holm_reject": lambda: stats.holm(p, alpha).found,
        "bh_reject": lambda: stats.benjamini_hochberg(p, alpha).found,
        "bh_adjusted": lambda: stats.benjamini_hochberg(p, alpha).adjusted,
        "familywise_risk_if_uncorrected": lambda: stats.familywise_risk(len(p), alpha),
    }


def best(given: Inputs) -> Answers:
    found = [stats.best_of(n) for n in given.get("n")]
    return {
        "expected_max": lambda: [one.expected for one in found],
        "sd_of_max": lambda: [one.sd for one in found],
    }


def records(given: Inputs) -> Answers:
    found = stats.record_bias(*map(given.get, ("true_mean", "s_r", "n1", "n2")))
    return {
        "expected_best_n1": lambda: found.best_1,
        "expected_best_n2": lambda: found.best_2,
        "spurious_gain": lambda: found.spurious_gain,
    }


RULES = (
    Rule("H", "^mean and standard|^standard dev", univariate),
    Rule("H", "Grubbs critical values", grubbs_table),
    Rule("H", "Grubbs", grubbs),
    Rule("H", "Dixon", dixon),
    Rule("H", "modified z", modified_z),
    Rule("H", "pooled.*repeatability", pooled),
    Rule("H", "between-session standard deviation", between),
    Rule("H", "critical difference", critical),
    Rule("H", "Welch", welch),
    Rule("H", "posterior of a mean shift", posterior),
    Rule("H", "runs per side", runs),
    Rule("H", "A-B-A", swapped),
    Rule("H", "regression", regression),
    Rule("H", "identifiability", identifiability),
    Rule("H", "Bayesian linear model|ridge", ridge),
    Rule("H", "D-optimal", designs),
    Rule("H", "several comparisons", several),
    Rule("H", "record bias", records),
    Rule("H", "best of n", best),
)
