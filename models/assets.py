"""Where the data that ships with the program lies."""

from __future__ import annotations

from pathlib import Path

ASSETS = Path(__file__).resolve().parent.parent / "assets"
"""The assets folder: beside `models` in a checkout and in an installed program alike."""

CASES = ASSETS / "cases"
DEMO_CASE = CASES / "gateway.toml"
ICON = ASSETS / "icons" / "isthmus.svg"
