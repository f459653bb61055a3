"""What a file that a case names is called from another folder."""

from __future__ import annotations

import os
from pathlib import Path


def seen_from(file: str, start: Path, folder: Path) -> str:
    """Return the name of a file as seen from a folder; a name that holds there already is kept to the letter.

    Parameters
    ----------
    file : name, as seen from ``start``, or absolute
    start, folder : where names start now, and where they are to start
    """
    if Path(file).is_absolute() or start.resolve() == folder.resolve():
        return file
    whole = (start / file).resolve()
    try:
        return Path(os.path.relpath(whole, folder.resolve())).as_posix()
    except ValueError:  # on another drive
        return str(whole)
