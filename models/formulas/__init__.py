"""Formulas of the trade: pure functions of floats and arrays, one topic a file, nothing but physics."""
