"""The catalogue of generic parts: what ships with the program, and a person's own folder beside it."""
