"""The service put together."""

from __future__ import annotations

from contextlib import asynccontextmanager
from typing import TYPE_CHECKING

from fastapi import Depends, FastAPI
from fastapi.staticfiles import StaticFiles
from starlette.concurrency import run_in_threadpool

from lotkin_service.access.door import Door
from lotkin_service.access.identity import check_origin
from lotkin_service.api import routes as api_routes
from lotkin_service.background.background_jobs import beside
from lotkin_service.door import problems
from lotkin_service.door.headers import SafeHeaders
from lotkin_service.door.logs import Logged
from lotkin_service.form.rendering import STATIC
from lotkin_service.pages import routes as page_routes
from lotkin_service.state import Works

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

    from lotkin_service.settings import ServiceSettings

__all__ = ["make_app"]


def make_app(settings: ServiceSettings) -> FastAPI:
    """Make the service for a store that exists.

    Raises:
        Unavailable: The store is missing or cannot be used.
    """
    works = Works(settings)
    app = FastAPI(
        title="lotkin",
        version="1",
        openapi_url="/api/v1/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=_lifespan,
        redirect_slashes=False,
        dependencies=[Depends(check_origin)],
    )
    app.state.works = works
    problems.add_to(app)
    app.add_middleware(Door, works=works)
    app.add_middleware(SafeHeaders, secure=settings.secure)
    app.add_middleware(Logged, metrics=works.metrics)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    for router in (*api_routes.ROUTERS, *page_routes.ROUTERS):
        app.include_router(router)
    return app


@asynccontextmanager
async def _lifespan(app: FastAPI) -> AsyncIterator[None]:
    works: Works = app.state.works
    jobs = beside(works)
    for job in jobs:
        job.start()
    yield
    for job in jobs:
        await run_in_threadpool(job.stop)
    works.close()
