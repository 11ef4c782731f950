"""Pages from templates; what each of them has at hand."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from fastapi.templating import Jinja2Templates
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from lotkin_answers.containment_words import BOUNDS_MEAN, DUTY, UNKNOWN_MEANS
from lotkin_service.form.filters import FILTERS

if TYPE_CHECKING:
    from fastapi import Request
    from fastapi.responses import HTMLResponse

__all__ = ["STATIC", "environment", "page"]

HERE = Path(__file__).parents[1]
STATIC = HERE / "static"

environment = Environment(
    loader=FileSystemLoader(HERE / "templates"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
environment.filters.update(FILTERS)
environment.globals.update(
    bounds_mean=BOUNDS_MEAN, whose_decision=DUTY, unknown_means=UNKNOWN_MEANS
)
_templates = Jinja2Templates(env=environment)


def page(request: Request, template: str, *, status: int = 200, **context: Any) -> HTMLResponse:
    """Render a page; `who` is whoever is signed in, or None, and `csrf` what its forms must send.

    Args:
        template: Name in the folder of templates.
        status: HTTP status.
        context: What the template shows.
    """
    context.setdefault("who", getattr(request.state, "who", None))
    context.setdefault("csrf", getattr(request.state, "csrf", ""))
    return _templates.TemplateResponse(request, template, context, status_code=status)
