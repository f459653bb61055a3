"""`python -m tests.images`: paint every scene anew and take the pictures as the approved ones."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tests.images.compare import read_picture, write_small
from tests.images.scenes import SCENES
from tests.images.shoot import shoot


def approve() -> None:
    """Paint, keep, and let go of pictures that no scene names any more."""
    with tempfile.TemporaryDirectory() as folder:
        shoot(Path(folder))
        for scene in SCENES:
            scene.file.parent.mkdir(exist_ok=True)
            write_small(read_picture(Path(folder) / f"{scene.name}.png"), scene.file)
    named = {scene.file for scene in SCENES}
    for file in SCENES[0].file.parent.glob("*.png"):
        if file not in named:
            file.unlink()
    print(f"{len(SCENES)} pictures, {sum(each.stat().st_size for each in named) / 1e6:.1f} MB")


if __name__ == "__main__":
    approve()
