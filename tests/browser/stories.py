"""The vehicles of the stories before anything of them was weighed or measured."""

from __future__ import annotations

import json
import re
import tomllib
from typing import Any

from tests.browser.vehicles import EXAMPLES

_TABLES = ("bench", "pile", "masses", "loads", "coupling", "scale", "weighed", "tilt", "tape")


def unmeasured(name: str, **more: Any) -> str:
    """The example without its measuring tables; `more` are keys of the top that replace its own."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for key in (*_TABLES, *more):
        text = re.sub(rf"(?m)^\[{key}(\.[^\]]*)?\][^\n]*\n(?:(?!\[).*\n)*", "", text)
        text = re.sub(rf"(?m)^{key} = .*\n", "", text)
    text = "".join(f"{key} = {_toml(value)}\n" for key, value in more.items()) + text
    assert tomllib.loads(text).keys() >= {"points", "bodies", *more}
    return text


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key)} = {_toml(each)}" for key, each in value.items()) + " }"
    return json.dumps(value)
