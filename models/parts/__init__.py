"""Kinds of part: one frozen class each, and the one registry that files, forms and tests walk."""
