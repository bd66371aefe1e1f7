"""Wellset: measure how a student stands to a golf ball, and say what to change first.

``wellset.assess(...)`` is loaded when it is first asked for, so that importing the
package, and the command line's help, cost nothing.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import ModuleType
from typing import TYPE_CHECKING

__version__ = "0.1.0"
__all__ = ["__version__", "assess", "check", "prescribe", "report", "what_if"]

if TYPE_CHECKING:
    # what type checkers see; loaded late below
    from wellset.api import assess, check, prescribe, report, what_if  # noqa: TC004
    from wellset.services.assessment import Assessment
    from wellset.services.check_plan import Check
    from wellset.services.plan_bag import BagPlan
    from wellset.services.what_if import Followed


class _FrontDoor(ModuleType):
    """The package as a module whose verbs are functions.

    The room ``wellset/assess/`` and the function ``wellset.assess`` share a name, and so do
    ``prescribe`` and ``wellset.prescribe``. Loading
    the room would put it over the function; a property on the module's class stands above
    that. ``from wellset.assess import …`` still reaches the room.
    """

    @property
    def assess(self) -> Callable[..., Assessment]:
        """See :func:`wellset.api.assess`."""
        from wellset.api import assess

        return assess

    @assess.setter
    def assess(self, _room: ModuleType) -> None:
        """The import system offers the room of that name here; the function stays."""

    @property
    def check(self) -> Callable[..., Check]:
        """See :func:`wellset.api.check`."""
        from wellset.api import check

        return check

    @property
    def prescribe(self) -> Callable[..., BagPlan]:
        """See :func:`wellset.api.prescribe`."""
        from wellset.api import prescribe

        return prescribe

    @prescribe.setter
    def prescribe(self, _room: ModuleType) -> None:
        """The room of that name; the function stays."""

    @property
    def report(self) -> Callable[..., bytes]:
        """See :func:`wellset.api.report`."""
        from wellset.api import report

        return report

    @property
    def what_if(self) -> Callable[..., Followed]:
        """See :func:`wellset.api.what_if`."""
        from wellset.api import what_if

        return what_if


sys.modules[__name__].__class__ = _FrontDoor
