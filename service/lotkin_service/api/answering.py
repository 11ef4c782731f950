"""How the interface answers: documents written while they are read, tables, and problems."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fastapi import APIRouter
from fastapi.responses import StreamingResponse
from pydantic import BaseModel

from lotkin_answers.json_document import document_chunks
from lotkin_answers.spreadsheet import csv_lines
from lotkin_service.api.reading_aside import ReadAside

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from lotkin_answers.json_document import Document
    from lotkin_answers.spreadsheet import Cell

__all__ = ["Problem", "answer", "router_of", "table"]

CHUNKS_TOGETHER = 200


class Problem(BaseModel):
    """What went wrong (RFC 9457), with the members of the command's JSON errors."""

    type: str
    title: str
    status: int
    detail: str
    kind: str
    record: str = ""
    hint: str = ""
    problems: list[str] | None = None
    candidates: list[str] | None = None


def router_of(tag: str) -> APIRouter:
    """Make a router of the interface; each of its routes may answer with the problems."""
    said = {
        400: "The request cannot be read.",
        401: "Nobody is signed in.",
        403: "Whoever is may not do this.",
        404: "No such record.",
        408: "The request came too slowly.",
        409: "Refused by a rule, or the input fits several records.",
        413: "The request is too large.",
        422: "The input is malformed.",
        429: "Too many tries.",
        503: "The store cannot be used.",
    }
    problems: dict[int | str, dict[str, Any]] = {
        status: {
            "description": text,
            "content": {
                "application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}
            },
        }
        for status, text in said.items()
    }
    return APIRouter(prefix="/api/v1", tags=[tag], responses=problems, route_class=ReadAside)


def answer(document: Document, status: int = 200) -> StreamingResponse:
    """Answer with a document as the command writes it, row by row."""
    chunks = _together(document_chunks(document))
    return StreamingResponse(chunks, status, media_type="application/json")


def table(columns: Sequence[str], rows: Iterable[Sequence[Cell]], name: str) -> StreamingResponse:
    """Answer with a table that a spreadsheet can open without harm."""
    headers = {"Content-Disposition": f'attachment; filename="{name}.csv"'}
    chunks = _together(csv_lines(columns, rows))
    return StreamingResponse(chunks, headers=headers, media_type="text/csv; charset=utf-8")


def _together(chunks: Iterator[str]) -> Iterator[str]:
    """Put small pieces together, so that a large answer is not sent word by word."""
    waiting: list[str] = []
    for chunk in chunks:
        waiting.append(chunk)
        if len(waiting) >= CHUNKS_TOGETHER:
            yield "".join(waiting)
            waiting.clear()
    yield "".join(waiting)
