"""The browser, opened without the token on any command line."""

from __future__ import annotations

import tempfile
import webbrowser
from html import escape
from pathlib import Path

__all__ = ["open_page"]


def open_page(address: str) -> Path | None:
    """Open `address` in the person's browser; the file to delete when it has been used.

    Every user of the machine can read the command line of a browser that starts. So the
    browser is handed a file that only this user can read, and that leads to the address.
    """
    with tempfile.NamedTemporaryFile(
        "w", prefix="leverwright-", suffix=".html", delete=False, encoding="utf-8"
    ) as door:
        door.write(
            '<!doctype html><meta charset="utf-8"><meta name="referrer" content="no-referrer">'
            f'<title>Leverwright</title><meta http-equiv="refresh" content="0; url={escape(address)}">'
            f'<p><a href="{escape(address)}">Open Leverwright</a></p>'
        )
    path = Path(door.name)  # mkstemp: mode 600, a name that cannot be guessed
    if webbrowser.open(path.as_uri()):
        return path
    path.unlink()
    return None
