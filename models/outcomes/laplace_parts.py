"""Parts off the frequency axis: their impedance at complex s, from the same declared values.

A kind that is a lumped circuit or a line is written down; any other is followed by a chain of relaxations with
positive elements, so that a part never gives energy, whatever its data.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache, singledispatch

import numpy as np

from models.arrays import Complex, Real
from models.formulas.constants import LIGHT_M_PER_S, MU0, RHO_COPPER_OHM_M
from models.formulas.lisn import PORT_OHM
from models.network.cable import CommonModeLine
from models.outcomes.laplace import TimeBase
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor
from models.parts.choke import CommonModeChoke
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.measured import Measured
from models.parts.part import Part
from models.parts.plane_gap import PlaneGap
from models.parts.resistor import Resistor

_PER_DECADE = 2
_SAMPLES = 80


@singledispatch
def laplace_ohm(part: Part, base: TimeBase) -> Complex:
    """Return the impedance of a part on the line of a time base.

    Parameters
    ----------
    part : any
    base : where s lies, (S,)

    Returns
    -------
    (S,) complex, Ω

    Notes
    -----
    Exact for lumped parts and lossless lines. A constant tan δ of a capacitor, which no causal part has, counts as the
    series resistance that it is at ``base.loss_omega``; that of a plane gap is left out. Other kinds: Z = R + sL +
    1/(sC) + Σ Rk·s/(s + pk) + Σ Rk·pk/(s + pk), least squares with no negative element; skin effect within 2 %. A kind
    that resonates by itself has to be written down here. Source: R. M. Foster, *A reactance theorem*, 1924.
    """
    return continued(part.impedance, base)


def continued(impedance: Callable[[Real], Complex], base: TimeBase) -> Complex:
    """Return an impedance known at real ω on the line of a time base (S,), by relaxations of positive elements."""
    from scipy.optimize import nnls

    omega, on_axis, on_line = _relaxations(base)
    z = impedance(omega)
    scaled = on_axis / np.abs(z)[:, None]
    sizes = np.linalg.norm(scaled, axis=0)
    wanted = z / np.abs(z)
    rows = np.concatenate([scaled.real, scaled.imag]) / sizes
    values, _ = nnls(rows, np.concatenate([wanted.real, wanted.imag]))
    used = values > 0.0
    return np.asarray(on_line[:, used] @ (values[used] / sizes[used]), np.complex128)


@lru_cache(maxsize=8)
def _relaxations(base: TimeBase) -> tuple[Real, Complex, Complex]:
    low, high = 0.3 * base.sigma, math.pi / base.step_s
    omega = np.geomspace(low, high, _SAMPLES)
    poles = np.geomspace(0.1 * low, 10.0 * high, 1 + _PER_DECADE * math.ceil(math.log10(100.0 * high / low)))
    return omega, _columns(np.asarray(1j * omega, np.complex128), poles, low, high), _columns(base.s, poles, low, high)


def _columns(s: Complex, poles: Real, low: float, high: float) -> Complex:
    falling = poles / (s[:, None] + poles)
    lumped = np.stack([np.ones_like(s), s / high, low / s], axis=1)
    return np.concatenate([lumped, falling, 1.0 - falling], axis=1)


def _across(z: Complex | float, s: Complex, siemens: float, farad: float) -> Complex:
    """Return an impedance with a conductance and a capacitance across it."""
    return np.asarray(z / (1.0 + z * (siemens + s * farad)), np.complex128)


@laplace_ohm.register
def _resistor(part: Resistor, base: TimeBase) -> Complex:
    return _across(part.resistance_ohm + base.s * part.inductance_h, base.s, 0.0, part.capacitance_f)


@laplace_ohm.register
def _inductor(part: Inductor, base: TimeBase) -> Complex:
    loss = 0.0 if part.parallel_resistance_ohm is None else 1.0 / part.parallel_resistance_ohm
    return _across(part.rdc_ohm + base.s * part.inductance_h, base.s, loss, part.capacitance_f)


@laplace_ohm.register
def _bead(part: Bead, base: TimeBase) -> Complex:
    return _chain(part.cells, part.rdc_ohm, base.s, part.inductance_left())


@laplace_ohm.register
def _choke(part: CommonModeChoke, base: TimeBase) -> Complex:
    return _chain(part.cells, part.rdc_ohm, base.s, 1.0)


def _chain(cells: Sequence[Cell], rdc_ohm: float, s: Complex, left: float) -> Complex:
    total = np.full(s.shape, rdc_ohm, np.complex128)
    for cell in cells:
        total += _across(left * cell.inductance_h * s, s, 1.0 / cell.resistance_ohm, cell.capacitance_f)
    return total


@laplace_ohm.register
def _copper(part: Copper, base: TimeBase) -> Complex:
    if part.length_m is not None:
        return continued(part.impedance, base)
    return np.asarray(part.resistance_ohm + base.s * part.inductance_h, np.complex128)


@laplace_ohm.register
def _capacitor(part: Capacitor, base: TimeBase) -> Complex:
    s, farad = base.s, part.capacitance_left() * part.capacitance_f
    y = s * farad
    if part.insulation_resistance_ohm is not None:
        y = y + 1.0 / part.insulation_resistance_ohm
    for each in part.branches:
        slow = s * (part.capacitance_left() * each.capacitance_f)
        y = y + slow / (1.0 + slow * (each.resistance_ohm / part.capacitance_left()))
    z = 1.0 / y + (part.esr_ohm + part.dissipation_factor / (base.loss_omega * farad)) + s * part.inductance_h()
    if part.metal_resistance_ohm:
        corner = math.inf if part.metal_corner_hz is None else math.tau * part.metal_corner_hz
        z = z + part.metal_resistance_ohm * np.sqrt(1.0 + 2.0 * s / corner)
    return np.asarray(z / part.count, np.complex128)


@laplace_ohm.register
def _measured(part: Measured, base: TimeBase) -> Complex:
    """Give the fitted circuit, whose resonances ring as they should; it follows the data as well as the fit does."""
    return laplace_ohm(part.model(), base)


@laplace_ohm.register
def _plane_gap(part: PlaneGap, base: TimeBase) -> Complex:
    """Give the slot line without loss, which hardly damps what the bridge and the generator do."""
    line = part.line()
    delay = math.sqrt(line.inductance_h_per_m * line.capacitance_f_per_m) * part.length_m
    ends = np.tanh(base.s * (part.feed * delay)) + np.tanh(base.s * ((1.0 - part.feed) * delay))
    return np.asarray(math.sqrt(line.inductance_h_per_m / line.capacitance_f_per_m) / ends, np.complex128)


@laplace_ohm.register
def _cable(part: CommonModeLine, base: TimeBase) -> Complex:
    """Give the lossy line: z' = sZ0/c + √(R_dc'² + sρµ0/(2πa)²) + R'·sτ/(1 + sτ), y' = s/(Z0c).

    The last term is what radiates: even with the model over frequency at the quarter wave, where ωτ = 1, growing with
    ω² below it.
    """
    s, z0 = base.s, part.z0_ohm
    quarter = 0.5 * math.pi * LIGHT_M_PER_S / part.length_m
    radiating = 2.0 * float(part.solved(np.array([quarter])).radiation_ohm_per_m[0])
    at_dc = RHO_COPPER_OHM_M / (math.pi * part.radius_m**2)
    skin = np.sqrt(at_dc**2 + s * (RHO_COPPER_OHM_M * MU0 / (math.tau * part.radius_m) ** 2))
    series = s * (z0 / LIGHT_M_PER_S) + skin + radiating * s / (s + quarter)
    shunt = s / (z0 * LIGHT_M_PER_S)
    tanh = np.tanh(np.sqrt(series * shunt) * part.length_m)
    zc = np.sqrt(series / shunt)
    far = _far_end(part, base)
    if far is None:
        return np.asarray(zc / tanh, np.complex128)
    return np.asarray((far + zc * tanh) / (1.0 + far * tanh / zc), np.complex128)


def _far_end(part: CommonModeLine, base: TimeBase) -> Complex | None:
    if part.far_end == "open":
        return None
    if part.far_end == "lisn":
        return _lisn(part, base.s)
    return np.full(base.s.shape, 0.0 if isinstance(part.far_end, str) else part.far_end, np.complex128)


def _lisn(part: CommonModeLine, s: Complex) -> Complex:
    """Give both lines of the network, a coil with its resistance across the receiver, from what it is at 1 Mrad/s."""
    probe = 1e6
    far = part.far_ohm(np.array([probe]))
    assert far is not None
    coil = complex(1.0 / (1.0 / (2.0 * far[0]) - 1.0 / PORT_OHM))
    inner = coil.real + s * (coil.imag / probe)
    return np.asarray(0.5 * inner * PORT_OHM / (inner + PORT_OHM), np.complex128)
