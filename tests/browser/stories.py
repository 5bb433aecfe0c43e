"""The vehicles of the stories before anything of them was weighed or measured."""

from __future__ import annotations

from typing import Any

import tomlkit

from tests.browser.vehicles import EXAMPLES

_TABLES = ("bench", "pile", "masses", "loads", "coupling", "scale", "weighed", "tilt", "tape")


def unmeasured(name: str, **more: Any) -> str:
    """The example without its measuring tables; `more` are keys of the top that replace its own."""
    file: Any = tomlkit.parse((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    for table in _TABLES:
        file.pop(table, None)
    for key, value in more.items():
        file[key] = value
    return tomlkit.dumps(file)
