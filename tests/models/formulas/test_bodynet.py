from __future__ import annotations

import numpy as np
import pytest

from models.formulas import bodynet
from models.formulas.bodynet import Network

NETWORKS: tuple[Network, ...] = ("unweighted", "perception", "let-go", "medical")
F = np.array([0.0, 50.0, 1e3, 33e3, 1e6])


def by_nodes(f_hz: float, network: Network) -> tuple[complex, complex]:
    """Nodal solution with 1 A in: input, measuring node, filter output, node between 20 kΩ and 6.2 nF."""
    jw = 2j * np.pi * f_hz
    y = np.zeros((4, 4), complex)

    def join(a: int, b: int, admittance: complex) -> None:
        for node in {a, b} - {-1}:
            y[node, node] += admittance
        if -1 not in (a, b):
            y[a, b] -= admittance
            y[b, a] -= admittance

    join(0, 1, 1e6 if network == "medical" else 1.0 / 1500.0 + jw * 0.22e-6)
    join(1, -1, 1.0 / 1000.0 if network == "medical" else 1.0 / 500.0)
    join(1, 2, 1.0 / 10e3)
    shunt = {"unweighted": 0.0, "perception": 22e-9, "let-go": 9.1e-9, "medical": 15e-9}[network]
    join(2, -1, jw * shunt)
    join(2, 3, 1.0 / 20e3)
    join(3, -1, jw * (6.2e-9 if network == "let-go" else 0.0))
    v = np.linalg.solve(y, np.array([1.0, 0.0, 0.0, 0.0]))
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
    assert complex(bodynet.input_impedance(0.0, network)).real == (1000.0 if network == "medical" else 2000.0)


def test_the_network_takes_its_stated_part_off() -> None:
    for capacitance, error in ((2.2e-9, 1.1e-4), (20e-9, 1.1e-3), (100e-9, 7.5e-3)):
        source = 1.0 / (2j * np.pi * 50.0 * capacitance)
        true = abs(230.0 / (source + complex(bodynet.input_impedance(50.0, "unweighted"))))
        found = float(bodynet.touch_current(capacitance, 230.0, 50.0))
        assert true < found < true * (1.0 + error)


def test_the_greatest_capacitance_draws_the_limit_at_its_upper_tolerance() -> None:
    most = bodynet.most_capacitance(0.25e-3, 264.0, 60.0, 0.2)
    assert float(bodynet.touch_current(1.2 * most, 264.0, 60.0)) == pytest.approx(0.25e-3)


def test_half_sine_agrees_with_the_sampled_wave() -> None:
    t = (np.arange(100_000) + 0.5) / 100_000
    wave = np.maximum(0.0, np.sqrt(2.0) * 230.0 * np.sin(2.0 * np.pi * t))
    assert bodynet.half_sine_ac_rms(230.0) == pytest.approx(np.std(wave), rel=1e-6)
    current = 1e-9 * np.gradient(wave, 0.02 / 100_000)
    assert bodynet.half_sine_current(1e-9, 230.0, 50.0) == pytest.approx(np.sqrt(np.mean(current**2)), rel=1e-4)
