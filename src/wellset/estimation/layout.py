"""Names for the entries of a parameter vector."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from attrs import frozen

if TYPE_CHECKING:
    Block = slice[int, int, None]
    """Where a block of parameters lies in the vector."""
else:
    Block = slice  # takes no parameters when the program runs


@frozen(kw_only=True)
class Layout:
    """Which slice of the parameter vector is what, and what each entry is called."""

    slices: dict[str, Block]
    labels: tuple[str, ...]

    @property
    def size(self) -> int:
        """Number of parameters."""
        return len(self.labels)

    def __getitem__(self, block: str) -> Block:
        return self.slices[block]

    def __contains__(self, block: object) -> bool:
        return block in self.slices


def lay_out(blocks: Iterable[tuple[str, Iterable[str]]], /) -> Layout:
    """Place named blocks one after another.

    Parameters
    ----------
    blocks : iterable of (block name, labels of its entries)
    """
    slices: dict[str, Block] = {}
    labels: list[str] = []
    for name, entries in blocks:
        if name in slices:
            raise ValueError(f"block {name!r} is laid out twice")
        start = len(labels)
        labels.extend(entries)
        slices[name] = slice(start, len(labels))
    return Layout(slices=slices, labels=tuple(labels))
