"""Sending a picture or clip before its form, with progress."""

from __future__ import annotations

from fastapi import APIRouter, Request

from wellset.web.site import SiteNow
from wellset.web.uploads import keep_stream

router = APIRouter(tags=["media"])


@router.put("/api/media")
async def keep(request: Request, site: SiteNow, name: str = "picture") -> dict[str, str]:
    """Keep the body as a picture or clip; the same bytes are kept once."""
    shown = await keep_stream(request, site, name=name)
    return {"media": shown.media, "name": shown.name, "kind": shown.kind}
