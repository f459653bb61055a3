from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from collections.abc import Callable
from types import ModuleType
from typing import Any

import pytest

import models.formulas

MODULES = [
    importlib.import_module(f"models.formulas.{module.name}")
    for module in pkgutil.iter_modules(models.formulas.__path__)
]


def formulas_of(module: ModuleType) -> list[Callable[..., Any]]:
    return [
        value
        for name, value in vars(module).items()
        if inspect.isfunction(value) and value.__module__ == module.__name__ and not name.startswith("_")
    ]


FORMULAS = [formula for module in MODULES for formula in formulas_of(module)]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f"{f.__module__.rsplit('.', 1)[-1]}.{f.__name__}")
def test_every_argument_is_described(formula: Callable[..., Any]) -> None:
    text = inspect.getdoc(formula) or ""
    described = set(re.findall(r"\w+", " ".join(re.findall(r"^([\w, ]+) : ", text, re.MULTILINE))))
    assert set(inspect.signature(formula).parameters) == described
    assert "\nReturns\n-------\n" in text


def test_formulas_start_without_scipy_and_qt() -> None:
    names = [module.__name__ for module in MODULES]
    loaded = "print([name for name in ('scipy', 'skrf', 'PySide6') if name in sys.modules])"
    code = f"import importlib, sys\nfor name in {names!r}: importlib.import_module(name)\n{loaded}"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"
