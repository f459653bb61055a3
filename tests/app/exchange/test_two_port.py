"""A source and the pair as a two-port, against the solver, a dense solve and the laws of passive networks."""

from __future__ import annotations

import numpy as np
import pytest

from app.exchange.faults import ExchangeError
from app.exchange.two_port import two_port
from models.arrays import Complex
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case, parse_case
from models.network.grid import point_grid
from models.network.solver import Solver

GRID = point_grid(np.geomspace(1e3, 1e9, 25).tolist())
R = 50.0


def admittances(s: Complex) -> Complex:
    identity = np.eye(2)
    return np.asarray(np.linalg.solve(R * (identity + s), identity - s), np.complex128)


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_port_two_is_the_pair_and_the_ratio_is_the_transfer(path: object) -> None:
    case, solver = load_case(path), Solver()  # type: ignore[arg-type]
    tried = 0
    for source in case.sources:
        for candidate in case.candidates:
            try:
                s = two_port(solver, case, candidate, source, GRID)
            except ExchangeError:
                continue
            tried += 1
            transfer = solver.transfer(case, candidate, source, GRID)
            pair = solver.in_circuit(case, candidate, GRID)
            if getattr(source, "through", None) is not None:
                y = admittances(s)
                assert -y[:, 1, 0] / y[:, 1, 1] == pytest.approx(transfer, rel=1e-6)
                assert 1.0 / y[:, 1, 1] == pytest.approx(pair, rel=1e-6)
            else:
                z = R * np.linalg.solve(np.eye(2) - s, np.eye(2) + s) if _regular(s) else None
                if z is not None:
                    assert z[:, 1, 0] == pytest.approx(transfer, rel=1e-5)
                    assert z[:, 1, 1] == pytest.approx(pair, rel=1e-5)
            assert s[:, 0, 1] == pytest.approx(s[:, 1, 0], rel=1e-9)
            lost = np.linalg.eigvalsh(np.eye(2) - np.conj(np.swapaxes(s, 1, 2)) @ s)
            assert lost.min() > -1e-9, f"{source.name}, {candidate.name} gives energy"
    assert tried > 0


def _regular(s: Complex) -> bool:
    return bool(np.abs(np.linalg.det(np.eye(2) - s)).min() > 1e-9)


def test_every_parameter_against_a_dense_solve() -> None:
    """Nodes: primary (0 V), the switch, secondary, earth; capacitances of the demo case by hand."""
    case = load_case(DEMO_CASE)
    nothing = next(each for each in case.candidates if not each.branches)
    s = two_port(Solver(), case, nothing, case.sources[0], GRID)
    hot, cold, across, primary, lead = 24e-12, 36e-12, 1.6e-12 + 2e-12, 15e-12, 40e-12
    c = np.array(
        [
            [hot, -hot, 0.0],
            [-hot, hot + cold + across + lead, -lead],
            [0.0, -lead, lead + primary],
        ]
    )
    reduced = c[:2, :2] - np.outer(c[:2, 2], c[2, :2]) / c[2, 2]
    y = 1j * GRID.omega[:, None, None] * reduced
    expected = np.linalg.solve(np.eye(2) + R * y, np.eye(2) - R * y)
    assert s == pytest.approx(expected, rel=1e-9, abs=1e-12)


def test_a_source_in_series_with_earth_has_no_terminals() -> None:
    case = load_case(CASES / "earthed-or-floating.toml")
    series = [each for each in case.sources if each.kind == "mains-offset"]
    for source in series:
        with pytest.raises(ExchangeError, match="in series"):
            two_port(Solver(), case, case.candidates[0], source, GRID)


def test_an_open_pair_is_refused() -> None:
    case = parse_case(
        'isthmus = 1\n[pair]\na = "x"\nb = "y"\n[[coupling]]\nname = "k"\nbetween = ["x", "earth"]\n'
        'parts = [ { kind = "resistor", resistance = "1 ohm" } ]\n[[coupling]]\nname = "l"\n'
        'between = ["y", "z"]\nparts = [ { kind = "resistor", resistance = "1 ohm" } ]\n'
        '[[candidate]]\nname = "Nothing"\n'
        '[[source]]\nname = "s"\nkind = "return-current"\nbetween = ["x", "y"]\namplitude = 1\nfrequency = "1 MHz"\n'
        'duty = 0.5\nrise = "10 ns"\nfall = "10 ns"\n'.replace('b = "y"', 'b = "y"\nothers = ["z"]')
    )
    with pytest.raises(ExchangeError, match="open pair"):
        two_port(Solver(), case, case.candidates[0], case.sources[0], GRID)
