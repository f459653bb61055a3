"""The physics of Isthmus: parts, network, sources and what comes of them. No Qt, no window.

Conventions, said once:

* SI base units inside; text with units only at the edge (`models.quantity`). A name says its unit:
  ``f_hz``, ``esl_h``, ``rdc_ohm``, ``v_rms``; siemens is spelled out, so that ``_s`` is always seconds.
* float64 and complex128, exp(+jωt), rms phasors unless a name says peak.
* The frequency axis comes first: ``(F,)``, ``(F, N, N)``. DC is a frequency of exactly 0 and is solved as DC:
  an inductor is its resistance, a capacitor is its insulation.
* An open path has the impedance ``inf``; a short has the impedance 0.
* Objects are frozen; a change makes a new object.
"""
