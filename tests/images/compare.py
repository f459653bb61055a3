"""Two pictures held against each other, so that another build of Qt or FreeType passes and a change of ours does not.

Both are taken down to blocks of 4 × 4 pixels: the edge of a letter that is smoothed another way changes the mean of its
block by a few levels of 255, a letter that stands 6 pixels further by a hundred. Fills are compared over tiles of
16 × 16 pixels, where smoothing averages out and a colour of another shade remains.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from attrs import frozen
from PySide6.QtGui import QImage

Pixels = np.ndarray[tuple[int, ...], np.dtype[np.float32]]
"""(height, width, 3), levels 0 to 255."""

_BLOCK, _BLOCK_LEVELS, _BLOCK_SHARE = 4, 36.0, 0.0015
"""Blocks may differ by so much; so large a share of them may differ by more."""
_TILE, _TILE_LEVELS, _TILE_SHARE = 16, 6.0, 0.002


@frozen(kw_only=True, eq=False)
class Difference:
    """How far a picture is from the approved one, and where."""

    blocks: float
    """Share of the blocks that differ by more than smoothing can."""
    tiles: float
    """Share of the tiles whose mean colour differs."""
    where: Pixels
    """(height, width), levels of difference, for the picture of it."""

    @property
    def passes(self) -> bool:
        """Whether the picture counts as the approved one."""
        return self.blocks <= _BLOCK_SHARE and self.tiles <= _TILE_SHARE


def difference(found: Pixels, approved: Pixels) -> Difference:
    """Compare two pictures; those of different sizes differ everywhere."""
    if found.shape != approved.shape:
        return Difference(blocks=1.0, tiles=1.0, where=np.full(found.shape[:2], 255.0, np.float32))
    blocks, tiles = (np.abs(_means(found, size) - _means(approved, size)).max(axis=2) for size in (_BLOCK, _TILE))
    return Difference(
        blocks=float((blocks > _BLOCK_LEVELS).mean()),
        tiles=float((tiles > _TILE_LEVELS).mean()),
        where=np.repeat(np.repeat(blocks, _BLOCK, axis=0), _BLOCK, axis=1).astype(np.float32),
    )


def read_picture(file: Path) -> Pixels:
    """Return the pixels of a picture file."""
    image = QImage(str(file))
    assert not image.isNull(), f"{file.name}: no picture"
    whole = image.convertToFormat(QImage.Format.Format_RGB32)
    rows = np.frombuffer(whole.constBits(), np.uint8).reshape(whole.height(), whole.bytesPerLine())
    pixels = rows[:, : 4 * whole.width()].reshape(whole.height(), whole.width(), 4)
    return pixels[:, :, 2::-1].astype(np.float32)


def write_small(pixels: Pixels, file: Path) -> None:
    """Write a picture in its 256 commonest colours: small enough to keep, near enough to compare."""
    image, colours = _indexed(pixels)
    height, width = image.shape
    picture = QImage(image.tobytes(), width, height, width, QImage.Format.Format_Indexed8)
    picture.setColorTable([0xFF000000 | int(red) << 16 | int(green) << 8 | int(blue) for red, green, blue in colours])
    assert picture.save(str(file)), file


def write_difference(found: Difference, file: Path) -> None:
    """Write where two pictures differ: the more, the darker."""
    grey = np.clip(255.0 - 4.0 * found.where, 0.0, 255.0)
    write_small(np.repeat(grey[:, :, None], 3, axis=2), file)


def commonest(pixels: Pixels) -> Pixels:
    """Return the colour that most pixels have, (3,)."""
    flat = pixels.reshape(-1, 3).astype(np.int64)
    values, counts = np.unique(flat[:, 0] << 16 | flat[:, 1] << 8 | flat[:, 2], return_counts=True)
    found = int(values[counts.argmax()])
    return np.array([found >> 16, found >> 8 & 255, found & 255], np.float32)


def _means(pixels: Pixels, size: int) -> Pixels:
    """Return the mean colour of every whole block."""
    height, width = (length // size * size for length in pixels.shape[:2])
    blocks = pixels[:height, :width].reshape(height // size, size, width // size, size, 3)
    return np.asarray(blocks.mean(axis=(1, 3)), np.float32)


def _indexed(pixels: Pixels) -> tuple[np.ndarray[tuple[int, ...], np.dtype[np.uint8]], Pixels]:
    """Return a colour number for each pixel, and the colours: the commonest of a coarser scale."""
    flat = pixels.reshape(-1, 3).astype(np.int64)
    key = (flat[:, 0] // 8) << 10 | (flat[:, 1] // 8) << 5 | flat[:, 2] // 8
    buckets, member, counts = np.unique(key, return_inverse=True, return_counts=True)
    sums = np.stack([np.bincount(member, flat[:, k], buckets.size) for k in range(3)], axis=1)
    centres = sums / counts[:, None]
    kept = np.argsort(counts)[::-1][:256]
    colours = np.rint(centres[kept])
    nearest = ((centres[:, None, :] - colours[None, :, :]) ** 2).sum(axis=2).argmin(axis=1)
    return nearest[member].astype(np.uint8).reshape(pixels.shape[:2]), colours.astype(np.float32)
