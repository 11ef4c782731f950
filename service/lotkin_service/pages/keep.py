"""Keeping the service: ways in for people, stations and machines, and the plan."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, Response

from lotkin.core.access.rights import RIGHTS_OF, Right, Who
from lotkin.core.access.sign_in import TokenKind
from lotkin.core.errors import BadFile, LotkinError
from lotkin.uses.cases.letters import hook_states
from lotkin.uses.recording.load_plan import load_plan
from lotkin_service.access.cookies import keep_station
from lotkin_service.access.guard import Keeper
from lotkin_service.door.body_limit import LARGEST_PLAN
from lotkin_service.door.problems import status_of
from lotkin_service.form.rendering import page
from lotkin_service.state import TheWorks, Works

__all__ = ["router"]

router = APIRouter(prefix="/keep", include_in_schema=False)

Text = Annotated[str, Form(max_length=80)]
Told = tuple[str, str, str]


def _page(
    request: Request,
    works: Works,
    who: Who,
    *,
    told: Told | None = None,
    error: LotkinError | None = None,
) -> HTMLResponse:
    plan = works.plan()
    return page(
        request,
        "keep.html",
        status=status_of(error) if error is not None else 200,
        who=who,
        told=told,
        error=error,
        problems=getattr(error, "problems", ()),
        people=plan.people if plan is not None else (),
        places_of_works=plan.shop_places if plan is not None else (),
        ways=works.sign_in.ways_in(),
        stations=works.sign_in.tokens(TokenKind.STATION),
        machines=works.sign_in.tokens(TokenKind.MACHINE),
        hooks=works.settings.hooks,
        told_hooks={state.hook: state for state in hook_states(works.store)},
    )


@router.get("")
def keep(request: Request, works: TheWorks, who: Keeper) -> HTMLResponse:
    """Show who may come in."""
    return _page(request, works, who)


@router.post("/passwords")
def password(request: Request, works: TheWorks, who: Keeper, person: Text) -> HTMLResponse:
    """Give somebody a password for one sign-in; it is shown once."""
    try:
        given = works.sign_in.give_password(person)
    except LotkinError as error:
        return _page(request, works, who, error=error)
    told = (f"For {person}, good for one sign-in:", given, "It is not shown again.")
    return _page(request, works, who, told=told)


@router.post("/pins")
def pin(request: Request, works: TheWorks, who: Keeper, person: Text, pin: Text) -> HTMLResponse:
    """Give somebody a PIN for stations."""
    try:
        works.sign_in.give_pin(person, pin.strip())
    except LotkinError as error:
        return _page(request, works, who, error=error)
    return _page(request, works, who, told=(f"{person} has a PIN now.", "", ""))


@router.post("/stations")
def station(request: Request, works: TheWorks, who: Keeper, name: Text, place: Text) -> Response:
    """Enrol the device that asks, for a place."""
    try:
        token = works.sign_in.enrol_station(name.strip(), place, who.person)
    except LotkinError as error:
        return _page(request, works, who, error=error)
    told = (f"This device is {name} at {place} now.", "", "Sign out, then go to /station.")
    answer = _page(request, works, who, told=told)
    keep_station(answer, token, works)
    return answer


@router.post("/machines")
def machine(
    request: Request,
    works: TheWorks,
    who: Keeper,
    name: Text,
    may: Annotated[Literal["work", "speak", "ask"], Form()],
) -> HTMLResponse:
    """Make a token for a machine; it is shown once."""
    rights = frozenset({Right.ASK}) if may == "ask" else RIGHTS_OF["operator"]
    if may == "speak":
        rights |= {Right.SPEAK}
    token = works.sign_in.let_machine_in(name.strip(), rights, who.person)
    told = (f"Token of {name}:", token, "It is not shown again.")
    return _page(request, works, who, told=told)


@router.post("/end")
def end(
    request: Request, works: TheWorks, who: Keeper, kind: Annotated[TokenKind, Form()], name: Text
) -> HTMLResponse:
    """Let a station or machine in no more."""
    try:
        works.sign_in.shut_out(kind, name)
    except LotkinError as error:
        return _page(request, works, who, error=error)
    return _page(request, works, who, told=(f"{name} is let in no more.", "", ""))


@router.post("/plan")
def plan(
    request: Request, works: TheWorks, who: Keeper, plan: Annotated[UploadFile, File()]
) -> HTMLResponse:
    """Load a plan; its problems are listed with their lines."""
    try:
        content = plan.file.read(LARGEST_PLAN + 1)
        if len(content) > LARGEST_PLAN:
            raise BadFile("plan", "it is larger than 2 MB")
        text = content.decode("utf-8")
        done = load_plan(works.store, text, "plan", by=who.person, clock=works.clock)
    except UnicodeDecodeError:
        return _page(request, works, who, error=BadFile("plan", "it is no text in UTF-8"))
    except LotkinError as error:
        return _page(request, works, who, error=error)
    said = "It says the same as before." if done.unchanged else f"It holds from event {done.seq}."
    return _page(request, works, who, told=(said, "", ""))
