"""Values read back from measurements that were made up from known ones."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from models.case.document import Branch, Candidate, Case, Pair, Transformer
from models.decide.board_fit import fit_board, unknowns
from models.decide.parameters import Parameter
from models.errors import DataError
from models.fitting.data import Measurement, make_measurement
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.capacitor import Capacitor

F_HZ = np.geomspace(1e4, 300e6, 180)


def board(interwinding_f: float = 60e-12, esl_h: float = 9e-9) -> Case:
    bridge = Branch(parts=(Capacitor(capacitance_f=2.2e-9, esr_ohm=0.2, esl_h=esl_h),))
    return Case(
        pair=Pair(a="A", b="B"),
        transformers=(Transformer(name="T1", between=("A", "B"), interwinding_capacitance_f=interwinding_f),),
        candidates=(Candidate(name="other"), Candidate(name="bridge", branches=(bridge,))),
    )


def measured(case: Case, noise: float, *, seed: int = 1) -> Measurement:
    z = Solver().in_circuit(case, case.candidates[1], point_grid(F_HZ.tolist()))
    random = np.random.default_rng(seed)
    error = noise * (random.standard_normal(z.size) + 1j * random.standard_normal(z.size))
    return make_measurement(F_HZ, z * np.exp(error), source="made up")


def chosen(case: Case, *keys: str) -> tuple[Parameter, ...]:
    return tuple(each for each in unknowns(case, case.candidates[1]) if each.key in keys)


def test_two_unknowns_come_back_and_lie_in_their_intervals() -> None:
    start = board()
    data = measured(board(37e-12, 14e-9), 0.01)
    fit = fit_board(start, 1, data, chosen(start, "interwinding_capacitance_f", "esl_h"))
    found = {each.parameter.key: each for each in fit.values}
    for key, true in (("interwinding_capacitance_f", 37e-12), ("esl_h", 14e-9)):
        assert found[key].value == pytest.approx(true, rel=0.01)
        assert found[key].low < true < found[key].high
        assert found[key].known
    assert fit.case.transformers[0].interwinding_capacitance_f == found["interwinding_capacitance_f"].value
    assert fit.case.candidates[0] == start.candidates[0]
    assert fit.after_db < 0.3 < fit.before_db


def test_intervals_hold_the_truth_about_as_often_as_they_say() -> None:
    start, truth = board(), board(37e-12)
    free = chosen(start, "interwinding_capacitance_f")
    fits = [fit_board(start, 1, measured(truth, 0.02, seed=seed), free).values[0] for seed in range(40)]
    inside = sum(each.low < 37e-12 < each.high for each in fits)
    assert 34 <= inside <= 40
    mean = float(np.mean([math.log(each.value) for each in fits]))
    assert math.exp(mean) == pytest.approx(37e-12, rel=0.01)


def test_a_value_that_the_measurement_does_not_see_is_not_claimed() -> None:
    start = board()
    data = measured(start, 0.01).within(1e4, 1e5)
    (esl,) = fit_board(start, 1, data, chosen(start, "esl_h")).values
    assert not esl.known


def test_a_measurement_without_phase_is_enough_for_magnitudes() -> None:
    start = board()
    full = measured(board(37e-12, 14e-9), 0.01)
    plain = evolve(full, z_ohm=np.abs(full.z_ohm).astype(np.complex128), has_phase=False)
    fit = fit_board(start, 1, plain, chosen(start, "esl_h", "interwinding_capacitance_f"))
    assert {each.parameter.key: each.value for each in fit.values}["esl_h"] == pytest.approx(14e-9, rel=0.02)


def test_what_cannot_be_fitted_is_refused_in_a_sentence() -> None:
    start = board()
    with pytest.raises(DataError, match="nothing unknown"):
        fit_board(start, 1, measured(start, 0.0), ())
    with pytest.raises(DataError, match="two or more"):
        fit_board(start, 1, measured(start, 0.0).within(1e4, 1.05e4), chosen(start, "esl_h", "capacitance_f"))
