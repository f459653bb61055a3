"""A cable in common mode as a two-terminal between its region and the surroundings, and the current along it."""

from __future__ import annotations

import math
from functools import cached_property
from typing import ClassVar, Self

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.case.document import Cable
from models.formulas.cable import free_wire_radiation, open_wire_radiation, plane_wire_radiation, wire_field
from models.formulas.constants import LIGHT_M_PER_S, RHO_COPPER_OHM_M
from models.formulas.copper import skin_depth
from models.formulas.line import wire_over_plane
from models.formulas.lisn import common_mode_impedance
from models.formulas.wire import arm_wave_impedance
from models.parts.part import Rating

_LISN_SERIES_OHM = 5.0
"""Of the V-network for 9 kHz to 30 MHz, (50 µH + 5 Ω) ∥ 50 Ω a line; above 150 kHz it hardly differs from the other."""
_SHORT = 0.1


@frozen(kw_only=True, cache_hash=True)
class CommonModeLine:
    """A cable as a line: z' = jβZ0(1 − jα/β)² + R'_copper, y' = jβ/Z0, loaded by Z_L at its far end.

    Z0 = (η0/2π)·acosh(h/a) over a plane at height h, 60·(ln(2l/a) − 1) without one. α = R'_radiation/(2Z0), with the
    radiation of the open wire in free space or of the wire along the plane. In free space an earthed or loaded far end
    closes its loop through an earth far away, and the wire counts with its partial inductance.

    Finite at every frequency. Absolute accuracy of |Z| and of the power radiated ±3 dB; the resonance of an open wire
    comes out at l = λ/4, where a real one lies 4 % lower. The cable counts as one round conductor of its outer
    diameter. Source: lossy-line model of the wire antenna; transmission-line theory.
    """

    kind: ClassVar[str] = "cable"

    length_m: float
    radius_m: float
    height_m: float | None
    far_end: str | float

    @property
    def rating(self) -> Rating:
        """A cable has no rating here."""
        return Rating()

    @property
    def z0_ohm(self) -> float:
        """Characteristic impedance without losses, Ω."""
        if self.height_m is None:
            return 0.5 * arm_wave_impedance(self.length_m, self.radius_m)
        return wire_over_plane(self.radius_m, self.height_m).impedance_ohm

    def far_ohm(self, omega: Real) -> Complex | None:
        """Return what the far end is loaded with (F,) in Ω, None for nothing."""
        if self.far_end == "open":
            return None
        if self.far_end == "lisn":
            return common_mode_impedance(omega / math.tau, series_ohm=_LISN_SERIES_OHM)
        return np.full(omega.shape, 0.0 if isinstance(self.far_end, str) else self.far_end, np.complex128)

    def solved(self, omega: Real) -> SolvedLine:
        """Return the line solved at ω > 0 (F,) in rad/s."""
        return SolvedLine(line=self, omega=omega)

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        return self.solved(omega).input_ohm

    def dc_ohm(self) -> float:
        """Return the copper's resistance and what the far end adds, Ω; ``inf`` for an open end."""
        far = self.far_ohm(np.zeros(1))
        copper = RHO_COPPER_OHM_M * self.length_m / (math.pi * self.radius_m**2)
        return math.inf if far is None else copper + float(far[0].real)

    def blocks_dc(self) -> bool:
        """Return whether the far end is open."""
        return self.far_end == "open"

    def scaled(self, factor: float) -> Self:
        """Return the cable with its length multiplied."""
        return evolve(self, length_m=self.length_m * factor)


@frozen(kw_only=True, eq=False, slots=False)
class SolvedLine:
    """A cable at some frequencies; every array is (F,), computed when asked for."""

    line: CommonModeLine
    omega: Real

    @cached_property
    def beta(self) -> Real:
        """Wave number, 1/m."""
        return self.omega / LIGHT_M_PER_S

    @cached_property
    def radiation_ohm_per_m(self) -> Real:
        """Series resistance that stands for radiation, Ω/m."""
        line, kl = self.line, self.beta * self.line.length_m
        if line.height_m is None:
            return open_wire_radiation(kl) / line.length_m
        return plane_wire_radiation(kl, self.beta * line.height_m) / line.length_m

    @cached_property
    def copper_ohm_per_m(self) -> Real:
        """Series resistance of the copper with skin effect, Ω/m: √(R_dc'² + (ρ/(2πaδ))²)."""
        radius = self.line.radius_m
        at_dc = RHO_COPPER_OHM_M / (math.pi * radius**2)
        skin = RHO_COPPER_OHM_M / (math.tau * radius * skin_depth(self.omega / math.tau))
        return np.sqrt(at_dc**2 + skin**2)

    @cached_property
    def gamma(self) -> Complex:
        """Propagation constant: γ² = (α + jβ)² + jβR'/Z0, 1/m."""
        alpha = self.radiation_ohm_per_m / (2.0 * self.line.z0_ohm)
        squared = np.empty(self.omega.shape, np.complex128)
        squared.real = alpha * alpha - self.beta * self.beta
        squared.imag = self.beta * (2.0 * alpha + self.copper_ohm_per_m / self.line.z0_ohm)
        return np.sqrt(squared)

    @cached_property
    def zc_ohm(self) -> Complex:
        """Characteristic impedance with losses: γZ0/(jβ), Ω."""
        return self.gamma * (-1j * self.line.z0_ohm / self.beta)

    @cached_property
    def far_ohm(self) -> Complex | None:
        """Load at the far end, None for nothing."""
        return self.line.far_ohm(self.omega)

    @cached_property
    def _decay(self) -> tuple[Complex, Complex, Complex]:
        """e^(−γl), and cosh γl and sinh γl times it: what stays finite on a long line and exact on a short one."""
        less: Complex = np.expm1(-self.gamma * self.line.length_m)
        half: Complex = -0.5 * less * (2.0 + less)
        return 1.0 + less, 1.0 - half, half

    @cached_property
    def _below(self) -> Complex:
        """What the input voltage is, per ampere-wave: cosh γl + (Z_L/Z_c)·sinh γl times e^(−γl); sinh γl when open."""
        _, cosh, sinh = self._decay
        return sinh if self.far_ohm is None else cosh + self.far_ohm / self.zc_ohm * sinh

    @cached_property
    def input_ohm(self) -> Complex:
        """Impedance at the region, Ω: Z_c·(Z_L·cosh γl + Z_c·sinh γl)/(Z_c·cosh γl + Z_L·sinh γl)."""
        _, cosh, sinh = self._decay
        above = cosh * self.zc_ohm if self.far_ohm is None else self.far_ohm * cosh + self.zc_ohm * sinh
        return above / self._below

    @cached_property
    def input_siemens(self) -> Complex:
        """Admittance at the region, S."""
        return 1.0 / self.input_ohm

    @cached_property
    def far_ratio(self) -> Complex:
        """Current through the far end's load, per ampere at the region."""
        if self.far_ohm is None:
            return np.zeros(self.omega.shape, np.complex128)
        return self._decay[0] / self._below

    @cached_property
    def far_share(self) -> Real:
        """Magnitude of `far_ratio`."""
        return np.abs(self.far_ratio)

    @cached_property
    def transfer_siemens(self) -> Complex:
        """Current into the region, per volt in series with the far end's load; 0 for an open end."""
        if self.far_ohm is None:
            return np.zeros(self.omega.shape, np.complex128)
        return self._decay[0] / (self._below * self.input_ohm)

    @cached_property
    def reflection(self) -> Complex:
        """Reflection of the voltage at the far end; 1 for an open end."""
        if self.far_ohm is None:
            return np.ones(self.omega.shape, np.complex128)
        return (self.far_ohm - self.zc_ohm) / (self.far_ohm + self.zc_ohm)

    @cached_property
    def _reflected(self) -> tuple[Real, Real]:
        """|Γ| and its angle φ."""
        if self.far_ohm is None:
            return np.ones(self.omega.shape), np.zeros(self.omega.shape)
        return np.abs(self.reflection), np.angle(self.reflection)

    @cached_property
    def _input_square(self) -> Real:
        """|I|² at the region for the current wave I(s) = e^(γs) − Γe^(−γs), s counted from the far end."""
        return self._square(self.line.length_m)

    def _square(self, s_m: float | Real) -> Real:
        """Return |I(s)|², as (e^(αs) − |Γ|e^(−αs))² + 4|Γ|·sin²(βs − φ/2), which loses no digit on a short line."""
        out = np.exp(self.gamma.real * s_m)
        size, angle = self._reflected
        standing = np.sin(self.gamma.imag * s_m - 0.5 * angle)
        return np.asarray((out - size / out) ** 2 + 4.0 * size * standing * standing, np.float64)

    @cached_property
    def largest_wave(self) -> Real:
        """Largest |I(s)| along the cable: the standing wave's crest nearest the region, or one of the ends."""
        _, at_crest, at_far_end = self._tops
        return np.asarray(np.sqrt(np.maximum(np.maximum(at_crest, at_far_end), self._input_square)), np.float64)

    @cached_property
    def largest_at_m(self) -> Real:
        """Where the largest current along the cable flows, distance from the region, m; of like crests the nearest."""
        crest_m, at_crest, at_far_end = self._tops
        inside = np.where(at_crest >= at_far_end, self.line.length_m - crest_m, self.line.length_m)
        return np.where(self._input_square >= np.maximum(at_crest, at_far_end), 0.0, inside)

    @cached_property
    def _tops(self) -> tuple[Real, Real, Real]:
        """Distance of the crest nearest the region from the far end, |I|² there (0 for no crest), |I|² at the far end.

        With losses the crest lies a little nearer the region than where the waves meet in phase: within α/β² of it.
        """
        length, beta = self.line.length_m, self.gamma.imag
        size, angle = self._reflected
        turns = (2.0 * beta * length - angle) / math.tau
        crest = length - np.mod(turns - 0.5, 1.0) * math.pi / beta
        out = np.exp(self.gamma.real * np.maximum(crest, 0.0))
        at_crest = np.where(crest > 0.0, out + size / out, 0.0) ** 2
        at_far_end = 1.0 + size * (size - 2.0 * np.cos(angle))
        return crest, at_crest, np.asarray(at_far_end, np.float64)

    def along(self, place_m: Real) -> Real:
        """Return |I| (X, F) at distances (X,) in m from the region, per ampere at the region.

        |I(s)| of I(s) = e^(γs) − Γe^(−γs), s = l − x: a sine from an open far end, a cosine from an earthed one.
        """
        from_far_end = (self.line.length_m - place_m)[:, np.newaxis]
        return np.sqrt(self._square(from_far_end) / self._input_square)

    @cached_property
    def largest_ratio(self) -> Real:
        """Largest current along the cable, per ampere at the region."""
        return self.largest_wave / np.sqrt(self._input_square)

    @cached_property
    def square_length_m(self) -> Real:
        """∫|I|² ds along the cable, per square ampere at the region, m.

        In closed form; by quadrature of eighth order where the cable is so short that the closed form cancels.
        """
        length = self.line.length_m
        nodes, weights = np.polynomial.legendre.leggauss(4)
        nodes = 0.5 * length * (1.0 + nodes)
        short = sum(0.5 * length * w * self._square(s) for s, w in zip(nodes.tolist(), weights.tolist(), strict=True))
        whole = np.where(np.abs(self.gamma) * length < _SHORT, short, self._integral())
        return np.asarray(whole / self._input_square, np.float64)

    def _integral(self) -> Real:
        alpha, beta, length = self.gamma.real, self.gamma.imag, self.line.length_m
        size, angle = self._reflected
        waves = (np.exp(alpha * length) + size * size * np.exp(-alpha * length)) * np.sinh(alpha * length) / alpha
        standing = 2.0 * size * np.sin(beta * length) * np.cos(beta * length - angle) / beta
        return np.asarray(waves - standing, np.float64)

    @cached_property
    def field_v_per_a(self) -> Real:
        """Field in free space times distance, in its strongest direction, per ampere of the largest current, V/A.

        Over a plane, less by what the image takes from the power radiated; the reflection of a test site is not in it.
        """
        line = self.line
        field = wire_field(self.gamma, self.reflection, self.beta, line.length_m) / self.largest_wave
        if line.height_m is None:
            return field
        kl = self.beta * line.length_m
        return field * np.sqrt(plane_wire_radiation(kl, self.beta * line.height_m) / free_wire_radiation(kl))

    @cached_property
    def radiated_ohm(self) -> Real:
        """Power radiated per square ampere (rms) at the region, Ω."""
        return self.radiation_ohm_per_m * self.square_length_m


def common_mode_line(cable: Cable) -> CommonModeLine:
    """Return a cable of the case as a line."""
    return CommonModeLine(
        length_m=cable.length_m, radius_m=0.5 * cable.diameter_m, height_m=cable.height_m, far_end=cable.far_end
    )
