"""The case: one frozen document, read from and written to TOML."""
