"""Files that are never half written, and what they are called."""

from __future__ import annotations

import os
import re
import secrets
from contextlib import suppress
from pathlib import Path

_LEFT_FOR_S = 60.0
"""How old a half-written file must be before it counts as left by a program that was ended: no save takes that long."""

_LONGEST_NAME, _LONGEST_HEAD = 60, 240
"""In characters, of a name made from a title; in bytes, where the system takes 255, of a name that grows."""

PICTURES = (".png", ".jpg", ".jpeg", ".bmp", ".gif", ".webp")
"""Endings of pictures whose curve can be read."""
_DATA = re.compile(r"\.([syz]\d{1,3}p|ts|csv|txt|dat)$", re.IGNORECASE)


def is_picture(path: Path) -> bool:
    """Return whether a file is a picture by its name."""
    return path.suffix.lower() in PICTURES


def can_be_imported(path: Path) -> bool:
    """Return whether a file is measured data, or the picture of it, by its name."""
    return is_picture(path) or bool(_DATA.search(path.name))


def plain_name(title: str, otherwise: str) -> str:
    """Return a title as a file's name without its ending; ``otherwise`` where no letter of it is left."""
    return re.sub(r"[^\w\-]+", "-", title).strip("-").lower()[:_LONGEST_NAME].strip("-") or otherwise


def write_whole(path: Path, text: str) -> None:
    """Write a text so that the file is always the old one or the new one, whatever happens meanwhile.

    A link stays one: what it points to is written. What an earlier save of the same file left half written, because its
    program was ended, is cleared away.

    Raises
    ------
    OSError
        when the folder cannot be written; the old file is then untouched
    """
    path = path.resolve() if path.is_symlink() else path
    fresh = path.with_name(f".{_head(path)}.{secrets.token_hex(4)}.new")
    try:
        with fresh.open("x", encoding="utf-8", newline="") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        if path.exists():
            fresh.chmod(path.stat().st_mode & 0o777)
        fresh.replace(path)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise
    clear_half_written(path)


def _head(path: Path) -> str:
    """Return the name of a file as far as one that has more behind it can be called so."""
    return os.fsencode(path.name)[:_LONGEST_HEAD].decode(errors="ignore")


def clear_half_written(path: Path) -> None:
    """Remove what saves of a file left half written and no program can still be writing; what cannot be, stays."""
    ours = re.compile(rf"\.{re.escape(_head(path))}\.[a-z0-9_]{{8}}\.new")
    with suppress(OSError):
        saved = path.stat().st_mtime
        for each in path.parent.iterdir():
            if ours.fullmatch(each.name) and each.stat().st_mtime < saved - _LEFT_FOR_S:
                each.unlink()
