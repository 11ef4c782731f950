"""`/health`: whether the service can answer; open to everybody, and says nothing else."""

from __future__ import annotations

from fastapi import APIRouter
from pydantic import BaseModel

from lotkin_service.works import TheWorks

__all__ = ["router"]

router = APIRouter(tags=["health"])


class Health(BaseModel):
    """Whether the service can answer."""

    status: str


@router.get("/health")
def health(works: TheWorks) -> Health:
    """Tell whether the store can be read."""
    with works.store.reading() as view:
        view.journal_head()
    return Health(status="ok")
