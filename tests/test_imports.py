"""Who may import whom, read from the source itself."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
QT = {"PySide6", "shiboken6", "pyqtgraph"}
LATE = {"scipy", "skrf", "pandas", "tomlkit", "jinja2"}


def sources(*folders: str) -> list[Path]:
    return [path for folder in folders for path in sorted((ROOT / folder).rglob("*.py"))]


def imported(nodes: list[ast.stmt] | Iterator[ast.AST]) -> set[str]:
    """Return the dotted names of the modules that statements import."""
    names: set[str] = set()
    for node in nodes:
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute"
            names.add(node.module or "")
    return names


def tops(names: set[str]) -> set[str]:
    return {name.split(".")[0] for name in names}


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def everywhere(path: Path) -> set[str]:
    return imported(ast.walk(parsed(path)))


def at_the_top(path: Path) -> set[str]:
    """Return what is imported when the module is, blocks for the type checker aside."""
    return imported(parsed(path).body)


def told(path: Path) -> str:
    return str(path.relative_to(ROOT))


@pytest.mark.parametrize("path", sources("models"), ids=told)
def test_models_know_neither_the_app_nor_qt(path: Path) -> None:
    assert not tops(everywhere(path)) & (QT | {"app", "tests"})


@pytest.mark.parametrize("path", sources("app"), ids=told)
def test_only_the_window_knows_qt(path: Path) -> None:
    if path.is_relative_to(ROOT / "app" / "qt"):
        return
    drawn = path.is_relative_to(ROOT / "app" / "report")
    assert drawn or not tops(everywhere(path)) & QT
    assert not any(name.startswith("app.qt") for name in at_the_top(path))
    assert "tests" not in tops(everywhere(path))


@pytest.mark.parametrize("path", sources("app/state"), ids=told)
def test_the_state_does_not_know_how_it_is_shown(path: Path) -> None:
    assert not any(name.startswith(("app.present", "app.qt", "app.cli")) for name in everywhere(path))


@pytest.mark.parametrize("path", sources("models", "app"), ids=told)
def test_what_is_slow_to_load_is_loaded_when_it_is_used(path: Path) -> None:
    assert not tops(at_the_top(path)) & LATE


def test_the_walk_finds_what_there_is() -> None:
    assert "PySide6" in tops({name for path in sources("app/qt") for name in everywhere(path)})
    assert len(sources("models")) > 30
    assert imported(ast.parse("import scipy.linalg\nfrom app.qt import start\n").body) == {"scipy.linalg", "app.qt"}
