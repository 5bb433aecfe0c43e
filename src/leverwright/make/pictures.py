"""The small drawings of the measuring tasks, the same on paper as on the page: how to hold, what can hurt.

`pictures.json` has each as strokes on a field of 320 by 152, in the few letters of SVG path data that they need.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from math import cos, pi, sin
from typing import Any

from leverwright.make.outline import Spot
from leverwright.make.pen import Pen

__all__ = ["PICTURE_SHAPE", "draw_picture", "picture_names"]

PICTURE_SHAPE = (320.0, 152.0)
_MM = 1e-3
_WORD = re.compile(r"([MLHVCaZ])|(-?[0-9.]+)")
_NUMBERS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "a": 7, "Z": 0}
_STEPS = 24  # pieces of a curve: finer than the stroke is thick
# Weight of each kind of stroke [m], its dash [m] and what grey fills it; the page gives them colours.
_KINDS: dict[str, tuple[float, tuple[float, ...], float | None]] = {
    "ground": (0.5 * _MM, (), None),
    "tyre": (1.3 * _MM, (), None),
    "rim": (0.3 * _MM, (), None),
    "tool": (0.4 * _MM, (), 0.8),
    "on-tool": (0.5 * _MM, (), None),
    "wood": (0.4 * _MM, (), 0.92),
    "frame": (0.7 * _MM, (), None),
    "part": (0.5 * _MM, (), None),
    "dim": (0.25 * _MM, (), None),
    "push": (0.8 * _MM, (), None),
    "spring": (0.6 * _MM, (), None),
    "rod": (0.9 * _MM, (), None),
    "damper": (2.2 * _MM, (), None),
    "guide": (0.6 * _MM, (1.5 * _MM, 1 * _MM), None),
    "danger": (0.5 * _MM, (), 1.0),
    "middle": (0.4 * _MM, (), 1.0),
    "middle-part": (0.3 * _MM, (), None),
    "board": (0.3 * _MM, (), 0.96),
    "paper": (0.4 * _MM, (), 0.9),
    "pin": (0.4 * _MM, (), 0.0),
    "hole": (0.5 * _MM, (), 1.0),
    "string": (0.4 * _MM, (0.8 * _MM, 1 * _MM), None),
}


def picture_names() -> tuple[str, ...]:
    """The tasks that have a drawing."""
    return tuple(_pictures())


def draw_picture(pen: Pen, name: str, corner: Spot, width: float) -> None:
    """The drawing of a task with its upper left corner there, so wide [m]; its height keeps PICTURE_SHAPE."""
    scale = width / PICTURE_SHAPE[0]

    def place(x: float, y: float) -> Spot:
        return corner[0] + x * scale, corner[1] - y * scale

    picture = _pictures()[name]
    for stroke in picture["strokes"]:
        weight, dash, fill = _KINDS[stroke["is"]]
        ways = [[place(*spot) for spot in way] for way in _ways(stroke["d"])]
        pen.strokes(ways, weight, dash, fill)
    for words in picture["words"]:
        pen.text(place(*words["at"]), words["says"], 16.0 * scale, align="middle")


@cache
def _pictures() -> dict[str, Any]:
    text = (files("leverwright.make") / "pictures.json").read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


def _ways(data: str) -> list[list[Spot]]:
    """Path data as straight pieces."""
    ways: list[list[Spot]] = []
    for letter, numbers in _pieces(data):
        if letter == "M":
            ways.append([(numbers[0], numbers[1])])
            continue
        way = ways[-1]
        x, y = way[-1]
        if letter == "L":
            way.append((numbers[0], numbers[1]))
        elif letter == "H":
            way.append((numbers[0], y))
        elif letter == "V":
            way.append((x, numbers[0]))
        elif letter == "Z":
            way.append(way[0])
        elif letter == "C":
            way += [_cubic((x, y), numbers, step / _STEPS) for step in range(1, _STEPS + 1)]
        else:
            way += _half_circle((x, y), numbers)
    return ways


def _pieces(data: str) -> Iterator[tuple[str, list[float]]]:
    letter, numbers = "", list[float]()
    for found in _WORD.finditer(data):
        if found.group(1):
            letter, numbers = found.group(1), []
        else:
            numbers.append(float(found.group(2)))
        if len(numbers) == _NUMBERS[letter]:
            yield letter, numbers
            numbers = []


def _cubic(start: Spot, numbers: list[float], share: float) -> Spot:
    """Bernstein's form of a cubic Bezier curve."""
    rest = 1.0 - share
    weights = (rest**3, 3 * rest**2 * share, 3 * rest * share**2, share**3)
    corners = (start, (numbers[0], numbers[1]), (numbers[2], numbers[3]), (numbers[4], numbers[5]))
    return (
        sum(weight * corner[0] for weight, corner in zip(weights, corners, strict=True)),
        sum(weight * corner[1] for weight, corner in zip(weights, corners, strict=True)),
    )


def _half_circle(start: Spot, numbers: list[float]) -> list[Spot]:
    """Half a turn to the place (dx, dy) further: all arcs of these drawings are such."""
    across, up = numbers[5], numbers[6]
    middle = (start[0] + across / 2, start[1] + up / 2)
    arm = (start[0] - middle[0], start[1] - middle[1])
    turns = [pi * step / _STEPS for step in range(1, _STEPS + 1)]
    return [
        (middle[0] + arm[0] * cos(t) - arm[1] * sin(t), middle[1] + arm[0] * sin(t) + arm[1] * cos(t))
        for t in turns
    ]
