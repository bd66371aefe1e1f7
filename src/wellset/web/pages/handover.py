"""Handing over everything of one student."""

from __future__ import annotations

from fastapi import APIRouter, Response
from fastapi.responses import StreamingResponse

from wellset.reports.handover import folder_name, handover
from wellset.services.export import everything_of
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)


@router.get("/students/{student_id}/export")
def export(site: SiteNow, student_id: str) -> Response:
    """One zip archive, made while it is sent."""
    everything = everything_of(site.desk, student_id)
    name = f"{folder_name(everything.student)}.zip"
    return StreamingResponse(
        handover(everything, media=site.desk.media),
        media_type="application/zip",
        headers={"content-disposition": f'attachment; filename="{name}"'},
    )
