"""Wellset: measure how a student stands to a golf ball, and say what to change first.

``wellset.assess(...)`` is loaded when it is first asked for, so that importing the
package, and the command line's help, cost nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"
__all__ = ["__version__", "assess"]

if TYPE_CHECKING:
    from wellset.api import assess


def __getattr__(name: str) -> object:
    if name == "assess":
        from wellset.api import assess

        return assess
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
