"""Certificates and photos as they were kept."""

from __future__ import annotations

from typing import Annotated

from fastapi import Path
from fastapi.responses import Response

from lotkin.uses.recording.attachments import media_type_of
from lotkin_service.access.guard import Asker
from lotkin_service.api.answering import router_of
from lotkin_service.state import TheWorks

__all__ = ["router"]

router = router_of("documents")


@router.get(
    "/documents/{sha256}",
    response_class=Response,
    responses={
        200: {"content": {"application/octet-stream": {"schema": {"type": "string"}}}},
    },
)
def document(
    works: TheWorks,
    who: Asker,
    sha256: Annotated[str, Path(pattern="^[0-9a-f]{64}$", description="Of the content.")],
) -> Response:
    """Give a document; its hash is checked."""
    content = works.documents.get(sha256)
    media_type = media_type_of(content) or "application/octet-stream"
    headers = {"Content-Disposition": f'inline; filename="{sha256[:12]}"'}
    return Response(content, headers=headers, media_type=media_type)
