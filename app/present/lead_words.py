"""Where the leads of a capacitor resonate, in words."""

from __future__ import annotations

from models.decide.lead_resonance import LeadResonance
from models.decide.verdict import shown


def lead_words(found: LeadResonance) -> tuple[str, str]:
    """Return what the leads resonate with, and what damps it."""
    full = found.full_damping_ohm
    meets = (
        f"With {shown(found.capacitance_f, 'F')}, leads of {shown(found.inductance_h, 'H')} resonate at "
        f"{shown(found.series_hz, 'Hz')}, which is harmless, and with the {shown(found.gap_f, 'F')} of the gap at "
        f"{shown(found.anti_hz, 'Hz')}, where the pair has {shown(found.peak_ohm(), 'ohm')}."
    )
    damped = (
        f"{shown(found.usual_damping_ohm, 'ohm')} in series is the usual damping; {shown(full, 'ohm')} flattens the "
        f"peak to {shown(found.peak_ohm(full), 'ohm')}."
    )
    return meets, damped
