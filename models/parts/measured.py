"""A part as it was measured: the data inside its range, a fitted passive model beyond it."""

from __future__ import annotations

import math
from typing import ClassVar, Self

import numpy as np
from attrs import evolve, field, frozen

from models.arrays import Complex, Real
from models.codec import Text
from models.declare import flat, quantity, value
from models.errors import DataError, QuantityError
from models.fitting.connection import CONNECTIONS
from models.parts.bead import Bead
from models.parts.capacitor import Capacitor
from models.parts.inductor import Inductor
from models.parts.part import Part, Rating
from models.quantity import hertz, ohms

JOIN_DECADES = 0.25
"""Over so much of a decade beyond the data what the fit leaves at its edge fades away."""
_QUARTER_TURN = 0.5 * math.pi


@frozen(kw_only=True, cache_hash=True)
class Curve:
    """What was read from a measurement file; two curves are equal where the same was measured."""

    digest: str
    model: Part
    """Bead, capacitor or inductor, fitted to the data."""
    log_f: Real = field(eq=False, repr=False)
    """(F,) ln of the frequency in Hz, ascending."""
    log_z: Complex = field(eq=False, repr=False)
    """(F,) ln of the impedance in Ω, its phase within ±90°."""
    error_db: float = field(eq=False)
    """Rms of fit/data."""
    warnings: tuple[str, ...] = field(eq=False, repr=False)

    @property
    def valid_hz(self) -> tuple[float, float]:
        """Lowest and highest frequency of the data, Hz."""
        return math.exp(self.log_f[0]), math.exp(self.log_f[-1])


@frozen(kw_only=True, cache_hash=True)
class Measured:
    """Measured part: ln Z by straight lines over ln f inside the data, Z = Zfit·(Zdata/Zfit at the edge)^w beyond it.

    w falls from 1 at the edge to 0 a quarter of a decade further, without a step or a kink. The phase is kept within
    ±90°, so that the part gives no energy. Beyond the range it is what the fitted circuit makes of it, an extrapolation
    to be marked as such. As exact as the measurement inside. Source: contract of the case file; fits: `models.fitting`.
    """

    kind: ClassVar[str] = "measured"

    file: str = value(Text(limit=500), "Touchstone file, or a table, as seen from the case file's folder")
    connection: str = value(
        Text(choices=CONNECTIONS), "how the part was connected to the instrument", default="one-port"
    )
    rdc_ohm: float | None = quantity(
        "ohm", "DC resistance where it is known; none for what the data shows", default=None, usual=(1e-3, 10.0)
    )
    rating: Rating = flat(Rating, default=Rating())
    folder: str = field(default="", eq=False)
    """Where a relative file name starts; no key of a file."""
    curve: Curve | None = None
    """What the file holds; None where it was not opened."""
    share: float = 1.0
    """What a tolerance makes of the main value; no key of a file."""

    def __attrs_post_init__(self) -> None:
        """Refuse a DC resistance that the measured capacitance contradicts."""
        if self.curve is None or self.rdc_ohm is None or not isinstance(self.curve.model, Capacitor):
            return
        least = math.exp(self.curve.log_z[0].real)
        if self.rdc_ohm < least:
            accepted = f"the insulation resistance of what measures as a capacitor, above {ohms(least)}, or none"
            raise QuantityError(f"rdc {ohms(self.rdc_ohm)}", accepted)

    @property
    def valid_hz(self) -> tuple[float, float]:
        """Lowest and highest frequency of the data, Hz."""
        return self._opened().valid_hz

    def model(self) -> Part:
        """Return the fitted circuit that stands beyond the data, with what is known of its DC resistance."""
        return self._as_measured() if self.share == 1.0 else self._as_measured().scaled(self.share)

    def impedance(self, omega: Real) -> Complex:
        """Return Z (F,) in Ω at ω > 0 (F,) in rad/s."""
        curve, nominal = self._opened(), self._as_measured()
        log_f = np.log(omega / math.tau)
        left = _left_at_edge(curve, nominal, log_f)
        inside = (log_f >= curve.log_f[0]) & (log_f <= curve.log_f[-1])
        left[inside] = _read_off(curve, log_f[inside]) - _log(nominal.impedance(omega[inside]))
        log_z = _log(self.model().impedance(omega)) + left
        phase = np.clip(log_z.imag, -_QUARTER_TURN, _QUARTER_TURN)
        size = np.exp(log_z.real)
        return np.asarray(size * np.cos(phase) + 1j * size * np.sin(phase), np.complex128)

    def dc_ohm(self) -> float:
        """Return what is known of the resistance at DC in Ω, else that of the fitted circuit."""
        return self.model().dc_ohm()

    def blocks_dc(self) -> bool:
        """Return whether the data is that of a capacitor."""
        return self._opened().model.blocks_dc()

    def scaled(self, factor: float) -> Self:
        """Return the part with the main value of its fitted circuit multiplied, the data following."""
        return evolve(self, share=self.share * factor)

    def warnings(self) -> tuple[str, ...]:
        """Return where the data ends, and what is doubtful about it."""
        curve = self._opened()
        low, high = curve.valid_hz
        article = "an" if curve.model.kind[0] in "aeiou" else "a"
        said = f"measured from {hertz(low)} to {hertz(high)}; beyond, {article} {curve.model.kind} fitted to it stands"
        return tuple(f'"{self.file}": {each}' for each in (said, *curve.warnings))

    def _as_measured(self) -> Part:
        """Return the fitted circuit without tolerance."""
        model, known = self._opened().model, self.rdc_ohm
        if known is None:
            return model
        match model:
            case Bead():
                return evolve(model, rdc_ohm=known)
            case Inductor():
                return evolve(model, rdc_ohm=_winding(known, model), parallel_resistance_ohm=_loss(known, model))
            case Capacitor():
                return evolve(model, insulation_resistance_ohm=max(known - model.esr_ohm, 1e-6 * known))
        return model

    def _opened(self) -> Curve:
        if self.curve is None:
            raise DataError(f"{self.file}: found a measured part whose file was not opened; accepted: an opened one")
        return self.curve


def _log(z: Complex) -> Complex:
    with np.errstate(divide="ignore"):
        return np.log(z)


def _left_at_edge(curve: Curve, model: Part, log_f: Real) -> Complex:
    """Return ln of what a fit leaves (F,) at the nearer edge of the data, faded with the distance from it."""
    ends = curve.log_f[[0, -1]]
    left = curve.log_z[[0, -1]] - _log(model.impedance(math.tau * np.exp(ends)))
    beyond = np.maximum(ends[0] - log_f, log_f - ends[1]) / (JOIN_DECADES * math.log(10.0))
    way = np.clip(beyond, 0.0, 1.0)
    fade = 1.0 - way * way * (3.0 - 2.0 * way)
    return np.asarray(np.where(log_f < ends[0], left[0], left[1]) * fade, np.complex128)


def _read_off(curve: Curve, log_f: Real) -> Complex:
    real, imag = (np.interp(log_f, curve.log_f, part) for part in (curve.log_z.real, curve.log_z.imag))
    return np.asarray(real + 1j * imag, np.complex128)


def _winding(rdc_ohm: float, coil: Inductor) -> float:
    """Return the winding's resistance that makes a known one together with the core loss beside it."""
    loss = _loss(rdc_ohm, coil)
    return rdc_ohm if loss is None else rdc_ohm / (1.0 - rdc_ohm / loss)


def _loss(rdc_ohm: float, coil: Inductor) -> float | None:
    loss = coil.parallel_resistance_ohm
    return None if loss is None or loss <= rdc_ohm else loss
