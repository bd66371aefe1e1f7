"""Points while they are being moved: what there is, and what a move would change."""

from __future__ import annotations

import json

from pydantic import Field

from wellset.reports.following import Following, ViewGuides, following
from wellset.services.landmark_file import HAND_SD_OF_HEIGHT
from wellset.services.moving import points_of
from wellset.web.api.models import Part, Version
from wellset.web.api.routing import interface_router
from wellset.web.site import SiteNow

router = interface_router("Points")


class PointsNow(Part):
    """The points as they are kept."""

    version: Version
    landmarks: dict[str, object] = Field(description="A landmark file.")
    hand_sd_px: dict[str, float] = Field(
        description="By view: the spread of a point that is placed by hand, pixel."
    )


class PointsTried(Part):
    """Points that are not to be kept."""

    landmarks: dict[str, object] = Field(description="A whole landmark file.")
    first_change: bool = Field(
        default=False, description="Whether to tell what to change first too; that takes longer."
    )


class FollowedMeasure(Part):
    """One measure that moved."""

    measure: str
    title: str
    before: str = Field(description="With its interval, in the coach's units.")
    after: str
    verdict_before: str = Field(description="inside, outside, undecided, or empty.")
    verdict: str


class FollowedLine(Part):
    """A line of the solved set-up in a picture."""

    role: str = Field(description="plumb, reference, target or ruler.")
    points_px: list[list[float]] = Field(description="Pairs, in the picture as taken.")


class FollowedView(Part):
    """What a picture shows of the solution."""

    lines: list[FollowedLine]
    up: dict[str, list[float]] = Field(
        description="By landmark: the way of a plumb line through it, of unit length."
    )


class FollowedNote(Part):
    """A remark that was not there before."""

    message: str
    where: str


class Preview(Part):
    """What moved points would change."""

    rows: list[FollowedMeasure] = Field(
        description="Measures whose shown value or verdict moved, the most moved first."
    )
    first_before: str = Field(description="Title of the first change as kept; may be empty.")
    first: str | None = Field(
        description="Title of the first change with these points; null when not asked for."
    )
    notes: list[FollowedNote]
    views: dict[str, FollowedView]


@router.get("/api/setups/{setup_id}/points")
def get_points(site: SiteNow, setup_id: str) -> PointsNow:
    """The points of a set-up with their version, to move them."""
    with site.desk.book.reading() as pages:
        setup = points_of(pages, setup_id)
    data = json.loads(setup.landmarks)
    return PointsNow(
        version=setup.version,
        landmarks=data,
        hand_sd_px={
            view: round(HAND_SD_OF_HEIGHT * content["picture"]["height_px"], 3)
            for view, content in data["views"].items()
        },
    )


@router.post("/api/setups/{setup_id}/preview")
def preview_points(site: SiteNow, setup_id: str, sent: PointsTried) -> Preview:
    """What moved points would change; nothing is kept."""
    moved = site.bench.preview(
        site.desk,
        setup_id,
        landmarks=json.dumps(sent.landmarks),
        first_change=sent.first_change,
    )
    return _preview(following(moved))


def _preview(followed: Following, /) -> Preview:
    return Preview(
        rows=[
            FollowedMeasure(
                measure=row.measure,
                title=row.title,
                before=row.before,
                after=row.after,
                verdict_before=row.verdict_before,
                verdict=row.verdict,
            )
            for row in followed.rows
        ],
        first_before=followed.first_before,
        first=followed.first,
        notes=[FollowedNote(message=n.message, where=n.where) for n in followed.notes],
        views={view.value: _view(guides) for view, guides in followed.views.items()},
    )


def _view(guides: ViewGuides, /) -> FollowedView:
    return FollowedView(
        lines=[
            FollowedLine(role=line.role.value, points_px=line.points_px.round(1).tolist())
            for line in guides.lines
        ],
        up={name: way.round(4).tolist() for name, way in guides.up.items()},
    )
