"""What the lead inductance of a bridging capacitor does: where it resonates, and which resistance tames it."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from models.formulas.resonance import characteristic_ohm, resonance_hz

_POINTS = 4001


@frozen(kw_only=True)
class LeadResonance:
    """A capacitor with lead inductance across the capacitance that is left between the regions.

    Series resonance f_s = 1/(2π√(L·C)), a low impedance and harmless; anti-resonance f_p = 1/(2π√(L·C_s)) with
    C_s = C·C_g/(C + C_g), a high impedance and the harmful one.

    Attributes
    ----------
    inductance_h : L of leads and mounting, H
    capacitance_f : C of the capacitor, F
    gap_f : C_g of everything else between the regions, F
    resistance_ohm : in series, near the anti-resonance, Ω

    Notes
    -----
    Lumped elements: good while the leads are shorter than a tenth of a wavelength. Source: two-branch circuit; any text
    on decoupling.
    """

    inductance_h: float
    capacitance_f: float
    gap_f: float
    resistance_ohm: float

    @property
    def series_hz(self) -> float:
        """Series resonance, Hz."""
        return resonance_hz(self.inductance_h, self.capacitance_f)

    @property
    def anti_hz(self) -> float:
        """Anti-resonance with the gap, Hz."""
        series = self.capacitance_f * self.gap_f / (self.capacitance_f + self.gap_f)
        return resonance_hz(self.inductance_h, series)

    @property
    def usual_damping_ohm(self) -> float:
        """√(L/C): the usual first value of a damping resistor, Ω."""
        return characteristic_ohm(self.inductance_h, self.capacitance_f)

    @property
    def full_damping_ohm(self) -> float:
        """√(L/C_g): the damping resistor that flattens the anti-resonance, Ω."""
        return characteristic_ohm(self.inductance_h, self.gap_f)

    def peak_ohm(self, resistance_ohm: float | None = None) -> float:
        """Return the highest |Z| around the anti-resonance with a resistance in series, Ω.

        Z = 1/(jωC_g + 1/(R + jωL + 1/(jωC)))

        Parameters
        ----------
        resistance_ohm : R in Ω; the present one where none is given

        Returns
        -------
        Ω, read from a grid fine enough for 0.1 % down to a tenth of the present resistance
        """
        resistance = self.resistance_ohm if resistance_ohm is None else resistance_ohm
        width = min(0.5, 20.0 * max(resistance, 1e-9) / self.full_damping_ohm + 1e-3)
        omega = 2.0 * np.pi * self.anti_hz * np.linspace(1.0 - width, 1.0 + width, _POINTS)
        branch = resistance + 1j * (omega * self.inductance_h - 1.0 / (omega * self.capacitance_f))
        return float(np.abs(1.0 / (1j * omega * self.gap_f + 1.0 / branch)).max())
