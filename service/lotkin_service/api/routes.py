"""All routers of the interface for programs, in the order of its description."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_service.api import (
    changes,
    checking,
    containing,
    documents,
    health,
    items,
    recording,
    station,
)

if TYPE_CHECKING:
    from fastapi import APIRouter

__all__ = ["ROUTERS"]

ROUTERS: tuple[APIRouter, ...] = (
    health.router,
    containing.router,
    items.router,
    checking.router,
    recording.router,
    documents.router,
    station.router,
    changes.router,
)
