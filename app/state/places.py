"""Where the program keeps what is not a document, as each system wants it."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_NAME = "isthmus"


def state_folder() -> Path:
    """Return the folder for unsaved work and recent files; it need not exist yet."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / _NAME
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / _NAME
    return Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state") / _NAME
