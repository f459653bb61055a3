"""Where a person's own catalogue lies: outside the program, so that an update leaves it alone."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

OVERRIDE = "ISTHMUS_CATALOGUE"
"""Environment variable that names another folder."""


def own_folder(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> Path:
    """Return the folder whose ``.toml`` files add to the catalogue; it need not exist."""
    if environment.get(OVERRIDE):
        return Path(environment[OVERRIDE])
    return _data_home(environment, platform) / "isthmus" / "catalogue"


def _data_home(environment: Mapping[str, str], platform: str) -> Path:
    home = Path(environment.get("HOME") or environment.get("USERPROFILE") or Path.home())
    if environment.get("XDG_DATA_HOME"):
        return Path(environment["XDG_DATA_HOME"])
    if platform == "win32":
        return Path(environment.get("APPDATA") or home / "AppData" / "Roaming")
    if platform == "darwin":
        return home / "Library" / "Application Support"
    return home / ".local" / "share"
