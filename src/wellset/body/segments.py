"""Segments with mass: what a body part weighs, where its centre lies, between which ends."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from attrs import field, frozen, validators

from wellset.body.sex import Sex
from wellset.units import Edition, Mark, Record

ENDS: Final = (
    "vertex",
    "c7",
    "suprasternale",
    "xiphion",
    "navel",
    "mid_shoulder",
    "mid_hip",
    "mid_ear",
    "gonion",
    "shoulder",
    "elbow",
    "wrist",
    "knuckle",
    "fingertip",
    "hip",
    "knee",
    "ankle",
    "malleolus",
    "heel",
    "toe",
    "foot_ball",
)
"""Every end point a table uses. ``shoulder``, ``elbow``, ``wrist``, ``hip``, ``knee`` and
``ankle`` are joint centres; ``malleolus`` is the outer ankle bone; ``knuckle`` and
``fingertip`` are the middle finger's; ``foot_ball`` is the head of the second toe's bone;
``mid_*`` lie half-way between lead and trail."""


@frozen(kw_only=True)
class SegmentMass:
    """One row of a mass table.

    Parameters
    ----------
    name : str
        The table's name of the segment.
    upper, lower : str
        The end points the centre is measured between; one of :data:`ENDS`. The centre's
        share belongs to these ends and to no others.
    mass_fraction : float
        Share of body mass, one side.
    centre_fraction : float
        Distance of the centre of mass from `upper`, as a share of upper to lower.
    paired : bool
        Whether the body has two.
    """

    name: str
    upper: str = field(validator=validators.in_(ENDS))
    lower: str = field(validator=validators.in_(ENDS))
    mass_fraction: float = field(validator=[validators.gt(0.0), validators.lt(1.0)])
    centre_fraction: float = field(validator=[validators.ge(0.0), validators.le(1.0)])
    paired: bool


@frozen(kw_only=True)
class MassModel:
    """A whole body cut into segments that do not overlap.

    Parameters
    ----------
    edition : Edition
        The table.
    sex : Sex
        Whose rows.
    population : str
        Who was measured.
    mark : Mark
        How firmly the numbers are known.
    segments : tuple of SegmentMass
        The cut: every gram of the body once (paired rows count twice).
    other_rows : tuple of SegmentMass
        The same segments measured between other ends, and composites.

    Notes
    -----
    Tables differ by several points of body mass in trunk and thigh, which moves the centre
    of mass of a bent body by a centimetre or two. A report must name the edition.
    """

    edition: Edition
    sex: Sex
    population: str
    mark: Mark
    segments: tuple[SegmentMass, ...]
    other_rows: tuple[SegmentMass, ...] = ()

    @property
    def total(self) -> float:
        """Sum of the mass shares, pairs twice; 1 up to the table's rounding."""
        return sum((2 if s.paired else 1) * s.mass_fraction for s in self.segments)

    def segment(self, name: str) -> SegmentMass:
        """The row of that name, of the cut or beside it.

        Raises
        ------
        KeyError
            If the table has no such row.
        """
        for row in (*self.segments, *self.other_rows):
            if row.name == name:
                return row
        raise KeyError(name)

    def mass(self, name: str) -> Record:
        """A segment's share of body mass as a record."""
        return self._record(self.segment(name).mass_fraction)

    def centre(self, name: str) -> Record:
        """The share of upper to lower at which a segment's centre lies, as a record."""
        return self._record(self.segment(name).centre_fraction)

    def with_row(self, name: str) -> MassModel:
        """The same cut with one segment taken between the other ends of row `name`.

        ``with_row("trunk, mid-shoulder")`` replaces the cut's trunk. The replaced row is
        the one whose name begins with the same word.
        """
        row = self.segment(name)
        part = row.name.split(",")[0]
        cut = tuple(row if s.name.split(",")[0] == part else s for s in self.segments)
        rest = tuple(
            s for s in (*self.segments, *self.other_rows) if all(s is not kept for kept in cut)
        )
        return MassModel(
            edition=self.edition,
            sex=self.sex,
            population=self.population,
            mark=self.mark,
            segments=cut,
            other_rows=rest,
        )

    def point_weights(self) -> Mapping[str, float]:
        """The centre of mass as a weighted mean of end points.

        Returns
        -------
        mapping of str to float
            Weight of each point; they add up to 1. Ends of paired segments appear as
            ``lead_*`` and ``trail_*``. The centre of mass is ``sum(weight * point)``: it
            is linear in the points, so these weights are its exact Jacobian too.
        """
        weights: dict[str, float] = {}
        for row in self.segments:
            share = row.mass_fraction / self.total
            for end, part in (
                (row.upper, 1 - row.centre_fraction),
                (row.lower, row.centre_fraction),
            ):
                names = (f"lead_{end}", f"trail_{end}") if row.paired else (end,)
                for name in names:
                    weights[name] = weights.get(name, 0.0) + share * part
        return MappingProxyType({name: w for name, w in weights.items() if w != 0.0})

    def _record(self, value: float) -> Record:
        return Record(
            value=value,
            unit="1",
            population=self.population,
            source=self.edition.source,
            mark=self.mark,
            edition=self.edition.date,
        )
