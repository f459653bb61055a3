"""What is said of a bead that carries load current: how it was computed, and what the load would leave of it."""

from __future__ import annotations

import math

from models.decide.verdict import shown
from models.network.load import BeadBias


def bias_said(bias: BeadBias) -> str:
    """Return a sentence with the load current, the share of the inductance left, and what was computed with."""
    bead = f"Bead in branch {bias.branch + 1}"
    if bias.by == "load":
        return f"{bead}: biased by {shown(bias.load_a, 'A')} load current, {percent(bias.left)} of its inductance left."
    if bias.by == "part":
        stated = f"{bead}: {shown(bias.bias_a, 'A')} of bias as stated, {percent(bias.left)} of its inductance left"
        return f"{stated}.{_computed(bias)}"
    if bias.left_by_load is None:
        return f"{bead}: unbiased, since without a rated current nobody can say what {_load(bias)} leaves of it."
    return f"{bead}: unbiased, though {_load(bias)} leaves {percent(bias.left_by_load)} of its inductance."


def overload_said(bias: BeadBias) -> str | None:
    """Return a sentence on a bead that carries more than it is rated for, None where it does not."""
    if not bias.overloaded or bias.rated_a is None:
        return None
    rated = shown(bias.rated_a, "A")
    return f"Bead in branch {bias.branch + 1}: {_load(bias)} is more than its rated {rated}, and heats it up."


def percent(share: float) -> str:
    """Return a share in percent, two digits where it is small."""
    return f"{100.0 * share:.0f} %" if share >= 0.1 else f"{100.0 * share:.2g} %"


def _computed(bias: BeadBias) -> str:
    """Return where the load current differs from what is stated by more than a tenth of it."""
    if bias.left_by_load is None or not bias.unlike_stated:
        return ""
    return f" The load current is {shown(bias.load_a, 'A')}: it would leave {percent(bias.left_by_load)}."


def _load(bias: BeadBias) -> str:
    return f"{shown(bias.load_a, 'A')} load current" if math.isfinite(bias.load_a) else "a current without a way back"
