"""Files that are never half written, and what they are called."""

from __future__ import annotations

import os
import re
import tempfile
from contextlib import suppress
from pathlib import Path

_LEFT_FOR_S = 60.0
"""How old a half-written file must be before it counts as left by a program that was ended: no save takes that long."""

_LONGEST_NAME = 60


def plain_name(title: str, otherwise: str) -> str:
    """Return a title as a file's name without its ending; ``otherwise`` where no letter of it is left."""
    return re.sub(r"[^\w\-]+", "-", title).strip("-").lower()[:_LONGEST_NAME].strip("-") or otherwise


def write_whole(path: Path, text: str) -> None:
    """Write a text so that the file is always the old one or the new one, whatever happens meanwhile.

    What an earlier save of the same file left half written, because its program was ended, is cleared away.

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
    clear_half_written(path)


def clear_half_written(path: Path) -> None:
    """Remove what saves of a file left half written and no program can still be writing; what cannot be, stays."""
    ours = re.compile(rf"\.{re.escape(path.name)}\.[a-z0-9_]{{8}}\.new")
    with suppress(OSError):
        saved = path.stat().st_mtime
        for each in path.parent.iterdir():
            if ours.fullmatch(each.name) and each.stat().st_mtime < saved - _LEFT_FOR_S:
                each.unlink()
