"""All routers of the pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_service.pages import keep, sign_in, start
from lotkin_service.pages.looking import find, items, printing
from lotkin_service.pages.quality import asking, cases, comparing, contain
from lotkin_service.pages.shop_floor import goods_in, station

if TYPE_CHECKING:
    from fastapi import APIRouter

__all__ = ["ROUTERS"]

ROUTERS: tuple[APIRouter, ...] = (
    sign_in.router,
    start.router,
    find.router,
    goods_in.router,
    items.router,
    contain.router,
    cases.router,
    comparing.router,
    asking.router,
    printing.router,
    keep.router,
    station.router,
)
