"""Photographs over HTTP: taken in, given back, removed."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from starlette.requests import Request
from starlette.responses import Response

from leverwright.project.fault import SaveError
from leverwright.project.photo_folder import read_picture, remove_picture, store_picture
from leverwright.server.bench import Bench
from leverwright.server.desk import Refusal
from leverwright.server.door import said
from leverwright.server.limits import PHOTO_BYTES
from leverwright.server.photo_decoder import decoded
from leverwright.wire.faults import SaidFault
from leverwright.wire.photo import StoredPhoto

__all__ = ["Photographs"]

_JPEG = b"\xff\xd8\xff"


class Photographs:
    """The pictures beside the project file at `path`.

    One is read and decoded at a time: a second would need as much memory again.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._bench = Bench("photographs")
        self._taking = False

    async def take(self, view: str, request: Request) -> StoredPhoto:
        """Decode the body and store it as a picture of `view`."""
        if self._taking:
            fault = said(
                "a second photograph while one is being read", "one at a time", "try again in a moment"
            )
            raise Refusal(fault, 503)
        self._taking = True
        try:
            data = await _body(request)
            return await self._bench.run(partial(self._taken, view, data))
        finally:
            self._taking = False

    async def give(self, name: str) -> Response:
        """A picture by its name in the folder's list."""
        data = await self._bench.run(partial(read_picture, self._path, name))
        if data is None or not data.startswith(_JPEG):
            raise _not_there()
        return Response(data, media_type="image/jpeg")

    async def remove(self, name: str) -> None:
        """Take a picture off the disk."""
        try:
            removed = await self._bench.run(partial(remove_picture, self._path, name))
        except SaveError as failed:
            raise Refusal(_failed(failed), 507) from failed
        if not removed:
            raise _not_there()

    def _taken(self, view: str, data: bytes) -> StoredPhoto:
        picture = decoded(data)
        try:
            name = store_picture(self._path, view, picture.data)
        except SaveError as failed:
            raise Refusal(_failed(failed), 507) from failed
        return StoredPhoto(picture=name, width=picture.width, height=picture.height)


def _not_there() -> Refusal:
    fault = said("a picture that is not there", "the pictures beside the file", "choose the photograph again")
    return Refusal(fault, 404)


def _failed(failed: SaveError) -> SaidFault:
    sentence = str(failed)
    return SaidFault(
        "", None, None, sentence, "a picture in the folder beside the file", "try again", sentence
    )


async def _body(request: Request) -> bytes:
    """The whole body; the guard has seen its length, the library keeps to it."""
    body = bytearray()
    async for piece in request.stream():
        body += piece
        if len(body) > PHOTO_BYTES:
            raise Refusal(said("a photograph over 12 MB", "at most 12 MB", "make it smaller"), 413)
    return bytes(body)
