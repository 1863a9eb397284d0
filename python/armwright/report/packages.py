"""Libraries that only some files need, and what to install where they are missing."""

from __future__ import annotations

import os
from importlib import import_module
from typing import Any

from armwright.errors import InputError


def package(name: str, path: str | os.PathLike[str]) -> Any:
    """The module of that name; where it is not installed, a refusal that says how to get it."""
    try:
        return import_module(name)
    except ModuleNotFoundError as error:
        wanted = f"{name.partition('.')[0]} in the environment: pip install 'armwright[export]'"
        raise InputError.of("path", str(path), wanted) from error
