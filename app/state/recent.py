"""The files that were opened last."""

from __future__ import annotations

import json
from pathlib import Path

from app.state.files import write_whole

_MOST = 10
_FILE = "recent.json"


def recent_files(folder: Path) -> tuple[Path, ...]:
    """Return the files opened last that still exist, newest first."""
    try:
        names = json.loads((folder / _FILE).read_text(encoding="utf-8"))
        return tuple(path for path in map(Path, names) if path.is_file())[:_MOST]
    except (OSError, ValueError, TypeError, RecursionError):
        return ()


def remember(folder: Path, path: Path) -> None:
    """Put a file at the head of the list; a folder that cannot be written is no reason to stop."""
    path = path.resolve()
    names = [str(path), *(str(each) for each in recent_files(folder) if each != path)]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(folder / _FILE, json.dumps(names[:_MOST], ensure_ascii=False))
    except OSError:
        return
