from __future__ import annotations

import numpy as np
import pytest

from models.formulas import bodynet
from models.formulas.bodynet import NETWORKS, Network

F = np.array([0.0, 50.0, 1e3, 33e3, 1e6])


def by_nodes(f_hz: float, network: Network) -> tuple[complex, complex]:
    """Nodal solution with 1 A in: input, measuring node, filter output."""
    jw = 2j * np.pi * f_hz
    y = np.zeros((3, 3), complex)

    def join(a: int, b: int, admittance: complex) -> None:
        for node in {a, b} - {-1}:
            y[node, node] += admittance
        if -1 not in (a, b):
            y[a, b] -= admittance
            y[b, a] -= admittance

    join(0, 1, 1.0 / 1500.0 + jw * 0.22e-6)
    join(1, -1, 1.0 / 500.0)
    join(1, 2, 1.0 / 10e3)
    join(2, -1, jw * (22e-9 if network == "perception" else 0.0))
    v = np.linalg.solve(y, np.array([1.0, 0.0, 0.0]))
    return complex(v[0]), complex(v[2])


@pytest.mark.parametrize("network", NETWORKS)
@pytest.mark.parametrize("f_hz", F)
def test_networks_agree_with_a_nodal_solution(f_hz: float, network: Network) -> None:
    entry, output = by_nodes(f_hz, network)
    assert complex(bodynet.input_impedance(f_hz, network)) == pytest.approx(entry, rel=1e-7)
    assert complex(bodynet.transfer_impedance(f_hz, network)) == pytest.approx(output, rel=1e-7)


@pytest.mark.parametrize("network", NETWORKS)
def test_at_dc_nothing_is_weighted(network: Network) -> None:
    assert complex(bodynet.weighting(0.0, network)) == pytest.approx(1.0, rel=1e-12)
    assert complex(bodynet.input_impedance(0.0, network)).real == 2000.0
