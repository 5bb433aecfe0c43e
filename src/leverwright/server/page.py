"""The built page as a fixed table, read once at start: no path of a request reaches the disk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable
from types import MappingProxyType

__all__ = ["FrontDoor", "Leaf", "built_page", "not_let_in", "page_of"]

_KINDS = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/x-icon",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
}
_FRAME = (
    '<!doctype html><html lang="en"><meta charset="utf-8"><title>Leverwright</title>'
    '<meta name="viewport" content="width=device-width">{head}<h1>Leverwright</h1>{body}</html>\n'
)
_NOT_BUILT = (
    "<p>The page is not part of this copy: it was installed without building it.</p>"
    "<p>In a clone, run <code>pip install .</code>, which builds it; or, with Node at hand, "
    "<code>npm ci</code> and <code>npm run build</code> in the folder <code>web</code>. Then start again. "
    "The command line answers without the page: <code>leverwright check FILE</code>.</p>"
)
_NOT_LET_IN = (
    "<p>This browser was not let in. Open the whole address that the program printed when it started; "
    "it works once. To get a new one, stop the program with Ctrl-C and start it again.</p>"
    '<p>If you have just opened that address, <a href="/">go on to the page</a>.</p>'
)


@dataclass(frozen=True, slots=True)
class Leaf:
    """One file of the page."""

    body: bytes
    kind: str


FrontDoor = Mapping[str, Leaf]  # path of the request -> file


def built_page() -> FrontDoor:
    """The packaged page, or one leaf that says how to build it."""
    return page_of(files("leverwright.server") / "static")


def page_of(folder: Traversable) -> FrontDoor:
    """The table of `folder`: `/` is its index.html, everything else stands under its own name."""
    table: dict[str, Leaf] = {}
    if (folder / "index.html").is_file():
        table = dict(_leaves(folder, "/"))
        table["/"] = table.pop("/index.html")
    else:
        table["/"] = Leaf(_FRAME.format(head="", body=_NOT_BUILT).encode(), _KINDS[".html"])
    return MappingProxyType(table)


def _leaves(folder: Traversable, prefix: str) -> list[tuple[str, Leaf]]:
    found: list[tuple[str, Leaf]] = []
    for item in sorted(folder.iterdir(), key=lambda each: each.name):
        kind = _KINDS.get(item.name[item.name.rfind(".") :])
        if item.is_dir():
            found += _leaves(item, f"{prefix}{item.name}/")
        elif kind is not None:
            found.append((prefix + item.name, Leaf(item.read_bytes(), kind)))
    return found


def not_let_in(*, again: bool) -> bytes:
    """The page for a browser without the cookie.

    `again`: it came by a link from elsewhere, so its browser may have withheld the
    cookie; asking again from our own page sends it.
    """
    head = '<meta http-equiv="refresh" content="0; url=/">' if again else ""
    return _FRAME.format(head=head, body=_NOT_LET_IN).encode()
