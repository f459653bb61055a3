"""Whole windows against their approved pictures, and the comparison against changes that it must and must not see.

`python -m tests.images` approves what is painted now. On failure the new picture and one of the difference are kept in
the folder that the message names.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.images.compare import Pixels, commonest, difference, read_picture, write_difference, write_small
from tests.images.scenes import SCENES, SMALL, WIDE, Scene
from tests.images.shoot import shoot

_MOST_BYTES = 3_000_000


@pytest.fixture(scope="session")
def painted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pictures")
    shoot(folder)
    return folder


@pytest.mark.parametrize("scene", SCENES, ids=lambda scene: scene.name)
def test_a_window_looks_as_approved(painted: Path, scene: Scene) -> None:
    new, where = painted / f"{scene.name}.png", painted / f"{scene.name}-difference.png"
    found = difference(read_picture(new), read_picture(scene.file))
    if not found.passes:
        write_difference(found, where)
    assert found.passes, (
        f"{found.blocks:.2%} of the blocks and {found.tiles:.2%} of the tiles differ; new: {new}, where: {where}; "
        "approve with python -m tests.images"
    )


def test_the_scenes_show_every_size_scale_and_look_and_stay_small() -> None:
    assert {scene.size for scene in SCENES} == {WIDE, SMALL}
    assert {scene.scale for scene in SCENES} == {1, 2}
    assert {scene.look for scene in SCENES} == {"light", "dark", "contrast"}
    assert sum(scene.file.stat().st_size for scene in SCENES) < _MOST_BYTES


@pytest.fixture(params=[SCENES[0], SCENES[1], SCENES[2]], ids=lambda scene: scene.look)
def approved(request: pytest.FixtureRequest) -> Pixels:
    scene: Scene = request.param
    return read_picture(scene.file)


def test_a_picture_kept_in_few_colours_still_passes(approved: Pixels, tmp_path: Path) -> None:
    write_small(approved, tmp_path / "again.png")
    assert difference(read_picture(tmp_path / "again.png"), approved).passes


def test_letters_smoothed_another_way_pass(approved: Pixels) -> None:
    """Another FreeType moves some of an edge's weight into the next pixel, here an eighth either way."""
    beside = [np.roll(approved, by, axis=1) for by in (-1, 1)]
    assert difference(0.75 * approved + 0.125 * (beside[0] + beside[1]), approved).passes


def test_a_level_or_two_of_another_colour_space_pass(approved: Pixels) -> None:
    assert difference(np.clip(approved + 2.0, 0.0, 255.0), approved).passes


@pytest.mark.parametrize("axis", [0, 1])
def test_a_card_that_moved_by_six_pixels_fails(approved: Pixels, axis: int) -> None:
    moved = approved.copy()
    card = np.s_[60:265, 14:690]
    moved[card] = np.roll(approved[card], 6, axis=axis)
    assert not difference(moved, approved).passes


def test_a_colour_of_another_shade_fails(approved: Pixels) -> None:
    """Of what fills, ten levels are seen; of what is thin, a colour that is another one."""
    shade = np.where((approved == commonest(approved)).all(axis=2, keepdims=True), np.abs(approved - 10.0), approved)
    assert not difference(shade.astype(np.float32), approved).passes
    spread = np.ptp(approved, axis=2, keepdims=True)
    blue = (spread > 60.0) & (approved.argmax(axis=2)[:, :, None] == 2)
    assert blue.any()
    assert not difference(np.where(blue, approved[:, :, ::-1], approved), approved).passes


def test_a_picture_of_another_size_fails(approved: Pixels) -> None:
    assert not difference(approved[:-2], approved).passes
