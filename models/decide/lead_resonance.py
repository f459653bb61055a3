"""What the lead inductance of a bridging capacitor does: where it resonates, and which resistance tames it."""

from __future__ import annotations

from attrs import frozen

from models.formulas.damping import antiresonance_hz, antiresonance_peak
from models.formulas.resonance import characteristic_ohm, resonance_hz


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
        return antiresonance_hz(self.capacitance_f, self.inductance_h, self.gap_f)

    @property
    def usual_damping_ohm(self) -> float:
        """√(L/C): the usual first value of a damping resistor, Ω."""
        return characteristic_ohm(self.inductance_h, self.capacitance_f)

    @property
    def full_damping_ohm(self) -> float:
        """√(L/C_g): the damping resistor that flattens the anti-resonance, Ω."""
        return characteristic_ohm(self.inductance_h, self.gap_f)

    def peak_ohm(self, resistance_ohm: float | None = None) -> float:
        """Return the highest |Z| above the series resonance with a resistance in series, Ω.

        Parameters
        ----------
        resistance_ohm : R in Ω; the present one where none is given
        """
        resistance = self.resistance_ohm if resistance_ohm is None else resistance_ohm
        return antiresonance_peak(self.capacitance_f, self.inductance_h, self.gap_f, resistance)
