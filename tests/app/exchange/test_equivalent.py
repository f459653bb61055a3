"""The equivalent at the pair, read back from its text, against the network that it stands for."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from app.exchange.equivalent import equivalent
from app.exchange.faults import ExchangeError
from models.assets import CASES
from models.case.document import Candidate
from models.case.read import load_case, parse_case
from models.case.write import case_text
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.capacitor import Capacitor


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_read_back_it_has_the_impedance_of_the_surroundings(path: Path) -> None:
    case = load_case(path)
    found = equivalent(case)
    again = parse_case(case_text(found.case))
    grid = point_grid(np.geomspace(case.sweep.start_hz, case.sweep.stop_hz, 333).tolist())
    for candidate in (Candidate(name="nothing"), *again.candidates):
        wanted = Solver().in_circuit(case, candidate, grid)
        ratio = Solver().in_circuit(again, candidate, grid) / wanted
        assert np.abs(20.0 * np.log10(np.abs(ratio))).max() < 0.3
        assert np.abs(np.degrees(np.angle(ratio))).max() < 2.0
    assert found.rms_error_db < 0.1
    assert found.range_hz == pytest.approx((case.sweep.start_hz, case.sweep.stop_hz))


def test_a_conductance_and_a_resonance_are_found() -> None:
    case = parse_case(
        'isthmus = 1\n[pair]\na = "x"\nb = "y"\n[[coupling]]\nname = "leak"\nbetween = ["x", "y"]\n'
        'parts = [ { kind = "resistor", resistance = "1 Mohm" } ]\n[[coupling]]\nname = "gap"\nbetween = ["x", "y"]\n'
        'parts = [ { kind = "capacitor", capacitance = "10 pF" } ]\n[[coupling]]\nname = "tank"\nbetween = ["x", "y"]\n'
        'parts = [ { kind = "capacitor", capacitance = "4 pF", esl = "2 uH", esr = "30 ohm" } ]\n'
    )
    found = equivalent(case).case
    values = sorted(
        (part.capacitance_f, part.esl_h, part.esr_ohm)
        for coupling in found.couplings
        for part in coupling.parts
        if isinstance(part, Capacitor)
    )
    assert values[0] == pytest.approx((4e-12, 2e-6, 30.0), rel=1e-3)
    assert values[1][0] == pytest.approx(10e-12, rel=1e-3)
    leak = next(part for coupling in found.couplings for part in coupling.parts if part.kind == "resistor")
    assert leak.dc_ohm() == pytest.approx(1e6, rel=1e-3)


def test_a_pair_that_only_candidates_join_has_none() -> None:
    case = parse_case(
        'isthmus = 1\n[pair]\na = "x"\nb = "y"\n[[candidate]]\nname = "Copper"\n[[candidate.branch]]\n'
        'parts = [ { kind = "copper", resistance = "1 mohm" } ]\n'
    )
    with pytest.raises(ExchangeError, match="nothing that joins it"):
        equivalent(case)
