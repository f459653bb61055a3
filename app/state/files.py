"""Files that are never half written."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Write a text so that the file is always the old one or the new one, whatever happens meanwhile.

    Raises
    ------
    OSError
        when the folder cannot be written; the old file is then untouched
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".new")
    fresh = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        if path.exists():
            fresh.chmod(path.stat().st_mode & 0o777)
        else:
            fresh.chmod(0o644)
        fresh.replace(path)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise
