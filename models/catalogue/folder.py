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


Stamp = tuple[Path, int, int]
"""A file, when it last changed in ns, and its size: what tells two states of it apart."""


def stamps(folder: Path, most: int) -> tuple[Stamp, ...]:
    """Return the state of the ``.toml`` files of a person's folder, by name and at most so many; none of no folder."""
    try:
        paths = sorted(path for path in folder.glob("*.toml") if path.is_file())[:most]
        return tuple((path, path.stat().st_mtime_ns, path.stat().st_size) for path in paths)
    except OSError:
        return ()


def _data_home(environment: Mapping[str, str], platform: str) -> Path:
    home = Path(environment.get("HOME") or environment.get("USERPROFILE") or Path.home())
    if environment.get("XDG_DATA_HOME"):
        return Path(environment["XDG_DATA_HOME"])
    if platform == "win32":
        return Path(environment.get("APPDATA") or home / "AppData" / "Roaming")
    if platform == "darwin":
        return home / "Library" / "Application Support"
    return home / ".local" / "share"
