"""How the impedance of one part changes with one of its values: ∂Z/∂p, exact where the part has a closed form.

The everyday values of the everyday parts are differentiated by hand. What is left (skin effect, geometry, bias) is
differentiated from the part's own formula with six points, to about 1e-10 of Z per relative step of p.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from models.arrays import Complex, Real
from models.codec import KeyPath
from models.declare import get_path, set_path
from models.formulas.impedance import lossy_capacitor, parallel_rlc, series_rl
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor

_STEP = 1e-3
_WEIGHTS = ((1, 3.0 / 4.0), (2, -3.0 / 20.0), (3, 1.0 / 60.0))
"""Central difference of sixth order: f'(x) = Σ w_k·(f(x + kh) − f(x − kh))/h + O(h⁶)."""


def slope(part: Part, path: KeyPath, omega: Real) -> Complex:
    """Return ∂Z/∂p of a part.

    Parameters
    ----------
    part : the part
    path : attribute names and indices from the part to the value p
    omega : (F,) rad/s, above 0

    Returns
    -------
    (F,) complex, Ω per SI unit of p

    Notes
    -----
    For Z = 1/Y: ∂Z/∂p = −Z²·∂Y/∂p. Source: differentiation of the formulas in `models.parts`.
    """
    exact = _EXACT.get(type(part))
    found = exact(part, path, omega) if exact else None
    if found is not None:
        return found
    return difference(lambda value: set_path(part, path, value).impedance(omega), get_path(part, path))


def difference(function: Callable[[float], Complex | Real], at: float) -> Complex:
    """Return the derivative of a smooth function of a value by a central difference of sixth order.

    Parameters
    ----------
    function : value → (F,)
    at : the value, above 0

    Returns
    -------
    (F,) complex

    Notes
    -----
    Relative error near 1e-12 for a function that changes on the scale of the value itself, more for one that resonates.
    Source: B. Fornberg, *Generation of Finite Difference Formulas on Arbitrarily Spaced Grids*.
    """
    step = _STEP * at
    total = sum(
        (weight * (function(at + count * step) - function(at - count * step)) for count, weight in _WEIGHTS),
        start=np.zeros(1),
    )
    return np.asarray(total / step, np.complex128)


def _capacitor(part: Part, path: KeyPath, omega: Real) -> Complex | None:
    assert isinstance(part, Capacitor)
    ones = np.ones(omega.shape, np.complex128)
    if path == ("esr_ohm",):
        return ones / part.count
    if path == ("esl_h",):
        return np.asarray(1j * omega / part.count, np.complex128)
    if part.branches or part.metal_resistance_ohm:
        return None
    left = part.capacitance_left()
    insulation = 0.0 if part.insulation_resistance_ohm is None else 1.0 / part.insulation_resistance_ohm
    z = lossy_capacitor(omega, left * part.capacitance_f, 0.0, 0.0, part.dissipation_factor, insulation)
    per_siemens: Complex = -(z**2) / part.count
    if path == ("capacitance_f",):
        return per_siemens * left * omega * (part.dissipation_factor + 1j)
    if path == ("dissipation_factor",):
        return per_siemens * left * omega * part.capacitance_f
    return per_siemens * -(insulation**2) if path == ("insulation_resistance_ohm",) else None


def _copper(_: Part, path: KeyPath, omega: Real) -> Complex | None:
    return _series(path, omega)


def _series(path: KeyPath, omega: Real) -> Complex | None:
    if path in (("resistance_ohm",), ("rdc_ohm",)):
        return np.ones(omega.shape, np.complex128)
    return np.asarray(1j * omega, np.complex128) if path == ("inductance_h",) else None


def _resistor(part: Part, path: KeyPath, omega: Real) -> Complex | None:
    assert isinstance(part, Resistor)
    inner = series_rl(omega, part.resistance_ohm, part.inductance_h)
    return _shunted(part, path, omega, inner)


def _inductor(part: Part, path: KeyPath, omega: Real) -> Complex | None:
    assert isinstance(part, Inductor)
    inner = series_rl(omega, part.rdc_ohm, part.inductance_h)
    if path == ("parallel_resistance_ohm",) and part.parallel_resistance_ohm is not None:
        return (part.impedance(omega) / part.parallel_resistance_ohm) ** 2
    return _shunted(part, path, omega, inner)


def _shunted(part: Part, path: KeyPath, omega: Real, inner: Complex) -> Complex | None:
    """Return the slope of Z = Z_i/(1 + Z_i·Y): (Z/Z_i)²·∂Z_i/∂p, or −Z²·∂Y/∂p."""
    whole = part.impedance(omega)
    if path == ("capacitance_f",):
        return -1j * omega * whole**2
    series = _series(path, omega)
    if series is None or not inner.all():
        return series
    return series * (whole / inner) ** 2


def _bead(part: Part, path: KeyPath, omega: Real) -> Complex | None:
    assert isinstance(part, Bead)
    if path == ("rdc_ohm",):
        return np.ones(omega.shape, np.complex128)
    if part.bias_current_a or path[0] != "cells":
        return None
    cell = part.cells[int(path[1])]
    z = parallel_rlc(omega, 1.0 / cell.resistance_ohm, cell.inductance_h, cell.capacitance_f)
    if path[2] == "resistance_ohm":
        return (z / cell.resistance_ohm) ** 2
    if path[2] == "inductance_h":
        return z**2 / (1j * omega * cell.inductance_h**2)
    return -1j * omega * z**2


_EXACT: Mapping[type, Callable[[Part, KeyPath, Real], Complex | None]] = MappingProxyType(
    {Capacitor: _capacitor, Copper: _copper, Resistor: _resistor, Inductor: _inductor, Bead: _bead}
)
