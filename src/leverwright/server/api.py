"""What the page reads and writes over HTTP."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial
from typing import TypeVar

import msgspec
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route, WebSocketRoute

from leverwright.server.bench import Benches
from leverwright.server.desk import Desk, Refusal
from leverwright.server.door import said, spoken
from leverwright.server.guard import PHOTO_PATHS
from leverwright.server.live import Pages
from leverwright.server.page import FrontDoor, Leaf
from leverwright.server.photo_api import Photographs
from leverwright.wire.archetypes import ArchetypeRequest, ArchetypeText
from leverwright.wire.files import MakeRequest, ProjectText, Saved, SaveRequest
from leverwright.wire.photo import PhotoText, RemovePhoto
from leverwright.wire.quick import QuickRequest
from leverwright.wire.strict import StrictError, Wire, compact, decode

__all__ = ["application"]

_Kind = TypeVar("_Kind", bound=msgspec.Struct)
_Answering = Callable[[Request], Awaitable[Response]]
_JSON = "application/json"


class _Api:
    """The endpoints; each hands its work to a bench and never waits for a file itself."""

    def __init__(self, desk: Desk, benches: Benches) -> None:
        self._desk = desk
        self._benches = benches
        self._photographs = Photographs(desk.path)

    async def read(self, _: Request) -> Response:
        """The file as it is on the disk."""
        text, revision = await self._benches.files.run(self._desk.read)
        document = ProjectText(name=self._desk.name, text=text, revision=revision)
        return _document(document, revision)

    async def save(self, request: Request) -> Response:
        """Write the text when the file is still the one that `If-Match` names."""
        revision = _expected(request)
        wanted = await _body(request, SaveRequest)
        new = await self._benches.files.run(partial(self._desk.save, wanted.text, revision))
        return _document(Saved(revision=new), new)

    async def archetypes(self, _: Request) -> Response:
        """The kinds of vehicle to start from."""
        return _document(await self._benches.files.run(self._desk.archetypes))

    async def archetype(self, request: Request) -> Response:
        """The project file of one kind by its measurements."""
        wanted = await _body(request, ArchetypeRequest)
        return _document(
            ArchetypeText(text=await self._benches.files.run(partial(self._desk.archetype, wanted)))
        )

    async def quick(self, request: Request) -> Response:
        """The verdict on five numbers."""
        wanted = await _body(request, QuickRequest)
        return _document(await self._benches.files.run(partial(self._desk.quick, wanted)))

    async def fields(self, _: Request) -> Response:
        """What may be typed where."""
        return _document(await self._benches.files.run(self._desk.fields))

    async def make(self, request: Request) -> Response:
        """One sheet as a file."""
        wanted = await _body(request, MakeRequest)
        sheet = await self._benches.sheets.run(partial(self._desk.made, wanted))
        named = {"content-disposition": f'attachment; filename="{sheet.name}"'}
        return Response(sheet.body, media_type=sheet.kind, headers=named)

    async def photograph(self, view: str, request: Request) -> Response:
        """Take a photograph in."""
        return _document(await self._photographs.take(view, request))

    async def picture(self, request: Request) -> Response:
        """A photograph that was taken in."""
        return await self._photographs.give(request.path_params["name"])

    async def photos(self, request: Request) -> Response:
        """What the photographs of a text say."""
        wanted = await _body(request, PhotoText)
        return _document(await self._benches.files.run(partial(self._desk.photos, wanted.text)))

    async def no_picture(self, request: Request) -> Response:
        """Remove a photograph."""
        wanted = await _body(request, RemovePhoto)
        await self._photographs.remove(wanted.picture)
        return Response(status_code=204)


def application(page: FrontDoor, desk: Desk, pages: Pages, benches: Benches) -> Starlette:
    """The application behind the door."""
    api = _Api(desk, benches)
    routes = [
        Route("/api/project", _refusing(api.read), methods=["GET"]),
        Route("/api/project", _refusing(api.save), methods=["PUT"]),
        Route("/api/archetypes", _refusing(api.archetypes), methods=["GET"]),
        Route("/api/archetype", _refusing(api.archetype), methods=["POST"]),
        Route("/api/quick", _refusing(api.quick), methods=["POST"]),
        Route("/api/make", _refusing(api.make), methods=["POST"]),
        Route("/api/fields", _refusing(api.fields), methods=["GET"]),
        *(
            Route(path.decode(), _refusing(partial(api.photograph, view)), methods=["POST"])
            for path, view in PHOTO_PATHS.items()
        ),
        Route("/api/photos", _refusing(api.photos), methods=["POST"]),
        Route("/api/photos/remove", _refusing(api.no_picture), methods=["POST"]),
        Route("/api/photos/{name}", _refusing(api.picture), methods=["GET"]),
        WebSocketRoute("/api/live", pages.serve),
        *(Route(path, partial(_leaf, leaf), methods=["GET"]) for path, leaf in page.items()),
    ]
    inside = Starlette(routes=routes, exception_handlers={404: _nothing, 405: _not_so})
    inside.router.redirect_slashes = False
    return inside


async def _leaf(leaf: Leaf, _: Request) -> Response:
    return Response(leaf.body, media_type=leaf.kind)


async def _nothing(_: Request, __: Exception) -> Response:
    return _refused(
        Refusal(said("an unknown address", "the addresses of the reference", "go to the page"), 404)
    )


async def _not_so(request: Request, _: Exception) -> Response:
    fault = said(f"{request.method} of this address", "the methods of the reference", "go to the page")
    return _refused(Refusal(fault, 405))


def _refusing(answer: _Answering) -> _Answering:
    """The endpoint, with a refusal turned into its document."""

    async def answering(request: Request) -> Response:
        try:
            return await answer(request)
        except Refusal as refusal:
            return _refused(refusal)

    return answering


def _refused(refusal: Refusal) -> Response:
    return Response(spoken(refusal.fault), refusal.status, media_type=_JSON)


def _document(document: Wire, revision: str | None = None) -> Response:
    headers = {} if revision is None else {"etag": f'"{revision}"'}
    return Response(compact(document), media_type=_JSON, headers=headers)


async def _body(request: Request, wanted: type[_Kind]) -> _Kind:
    try:
        return decode(await request.body(), wanted)
    except StrictError as bad:
        fault = said(f"a body that cannot be read ({bad})", "the form in the reference", "reload the page")
        raise Refusal(fault, 400) from bad


def _expected(request: Request) -> str:
    """The revision that the person's page began with."""
    values = request.headers.getlist("if-match")
    if not values:
        fault = said("no If-Match", "the revision that the text began with", "read the file first")
        raise Refusal(fault, 428)
    tag = values[0]
    if len(values) > 1 or len(tag) < 2 or tag[0] != '"' or tag[-1] != '"' or '"' in tag[1:-1]:
        raise Refusal(said("an unreadable If-Match", "one revision in quotes", "read the file first"), 412)
    return tag[1:-1]
