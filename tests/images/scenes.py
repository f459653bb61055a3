"""The windows that are kept as pictures: every size, scale and look at least twice, every kind of case in each look."""

from __future__ import annotations

from pathlib import Path

from attrs import frozen

WIDE, SMALL = (1440, 900), (1024, 700)
LESSON_NUMBER = 9
"""The lesson shown: its page has a drawing, a plot and a question."""


@frozen(kw_only=True)
class Scene:
    """One picture: what is shown, at which size, on which screen, in which look."""

    shown: str
    """The stem of a shipped case, `demo`, `new` or `lesson`."""
    size: tuple[int, int]
    scale: int
    """Device pixels for each logical one."""
    look: str

    @property
    def name(self) -> str:
        """What the picture's file is called."""
        return f"{self.shown}-{self.size[0]}x{self.size[1]}-{self.scale}00-{self.look}"

    @property
    def file(self) -> Path:
        """Where the approved picture is kept."""
        return Path(__file__).parent / "baseline" / f"{self.name}.png"


def _scene(shown: str, size: tuple[int, int], scale: int, look: str) -> Scene:
    return Scene(shown=shown, size=size, scale=scale, look=look)


SCENES = (
    _scene("demo", WIDE, 1, "light"),
    _scene("demo", SMALL, 1, "dark"),
    _scene("demo", WIDE, 2, "contrast"),
    _scene("sensor-board", SMALL, 1, "light"),
    _scene("sensor-board", WIDE, 1, "contrast"),
    _scene("sensor-board", WIDE, 2, "dark"),
    _scene("class-ii-supply", WIDE, 1, "dark"),
    _scene("class-ii-supply", SMALL, 1, "contrast"),
    _scene("class-ii-supply", SMALL, 2, "light"),
    _scene("new", WIDE, 1, "light"),
    _scene("new", SMALL, 1, "dark"),
    _scene("new", SMALL, 2, "contrast"),
    _scene("lesson", WIDE, 1, "light"),
    _scene("lesson", SMALL, 2, "dark"),
)
