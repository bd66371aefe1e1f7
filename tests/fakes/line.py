"""A line of work that only counts how often it was nudged."""

from __future__ import annotations

from attrs import define


@define
class FakeLine:
    """See :class:`wellset.web.site.Line`."""

    nudges: int = 0

    def nudge(self) -> None:
        """Count."""
        self.nudges += 1
