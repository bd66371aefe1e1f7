"""The default standards that come with the package."""

from __future__ import annotations

from functools import cache
from importlib import resources


@cache
def default_text() -> str:
    """The default standards file as text, to read or to copy and edit."""
    return resources.files("wellset.standards").joinpath("default.yaml").read_text("utf-8")
