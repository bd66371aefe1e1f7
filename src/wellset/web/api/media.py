"""Sending a picture, a clip or a plate's file before the set-up that they belong to."""

from __future__ import annotations

from fastapi import Request

from wellset.web.api.models import PictureSent, PlateSent
from wellset.web.api.routing import interface_router
from wellset.web.site import SiteNow
from wellset.web.uploads import keep_plate_stream, keep_stream

router = interface_router("Pictures and clips")

BODY = {
    "requestBody": {
        "required": True,
        "content": {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}},
    }
}


@router.put("/api/media", openapi_extra=BODY)
async def keep_media(request: Request, site: SiteNow, name: str = "picture") -> PictureSent:
    """Keep the body as a picture or clip.

    JPEG, PNG, WebP, HEIC, MP4 or MOV, told from its first bytes. The same bytes are kept once.
    Name its `media` in a set-up afterwards.
    """
    shown = await keep_stream(request, site, name=name)
    return PictureSent(media=shown.media, name=shown.name, kind=shown.kind)


@router.put("/api/plates", openapi_extra=BODY)
async def keep_plate_file(request: Request, site: SiteNow, name: str = "plate.csv") -> PlateSent:
    """Keep the body as a pressure plate's file: `wellset.plate/1`, once it can be read.

    Name its `media` in how a set-up was taken afterwards.
    """
    kept = await keep_plate_stream(request, site, name=name)
    return PlateSent(media=kept.media, name=kept.name)
