"""Wordings for the page's one wording file: numbers in SI and how each must be said.

The page words a few numbers by itself while a wheel moves. Its tests take these cases, written by
`python -m leverwright.quantity.cases`, so that both word every number alike.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from functools import partial
from typing import TypedDict

from leverwright.quantity.say import say, say_ratio, say_travel
from leverwright.quantity.units import Kind, System

__all__ = ["WordingCase", "wording_cases"]

_RATIOS = (
    *(0.64, 1.0, 1.6, 0.625, 0.375, 0.8, 0.0995, 0.0994, 0.08, 0.003, 0.0005, 0.0004),
    *(0.0, -0.0, -0.4, -0.08, -1.56, -0.0004, 3.0, 9.996, 12.0, 120.0, 0.1005, 0.0101, 0.01, 1 / 3),
)
_LENGTHS = (
    *(0.0, -0.0, 0.043, 0.0064, 0.00064, 0.000012, 0.318, -0.030, -0.00001, 0.0095, 0.00995, 0.01),
    *(0.00005, 0.000095, 0.3175, 0.3048, 0.0254, 0.1234567, 1.234, -0.0004, 0.0125, 0.0105, 0.00035),
    *(0.000396875, 0.000793750, 0.0253, 0.3047, -0.0253, 0.02546, 0.31968125),
)
_OTHERS: dict[Kind, tuple[float, ...]] = {
    "force": (0.0, 412.0, 9.94, 9.96, 0.04, -88.5, 1234.5, 608.04),
    "stiffness": (17500.0, 56300.0, 3520.0, 384.0, 99960.0, 9996.0, 60200.0, 123400.0, -2500.0),
    "angle": (0.0, 0.5235987755982988, 0.01, -0.0087, 1.5707963267948966, 2.0),
    "moment": (178.0, 0.43, 9.994, 9.996, 99.96, -12.34, 0.0),
    "frequency": (1.46, 2.91, 5.83, 0.5, 10.0, 9.996, 12.34),
    "percent": (0.39, 0.082, 0.86, 0.0, 1.0, 0.0995, 0.099),
    "mass": (62.0, 62.5, 155.0, 0.4),
}


class WordingCase(TypedDict):
    """A number in SI, and how it is said in either system."""

    value: float
    metric: str
    inch: str


def wording_cases() -> dict[str, list[WordingCase]]:
    """For "ratio", "travel" and each kind: numbers and their words."""
    kinds: dict[Kind, tuple[float, ...]] = {"length": _LENGTHS, **_OTHERS}
    return {
        "ratio": _cases(_RATIOS, lambda ratio, system: say_ratio(ratio, system=system)),
        "travel": _cases(_LENGTHS, lambda travel, system: say_travel(travel, system=system)),
        **{kind: _cases(values, partial(_said, kind)) for kind, values in kinds.items()},
    }


def _said(kind: Kind, value: float, system: System) -> str:
    return say(value, kind, system=system)


def _cases(values: tuple[float, ...], words: Callable[[float, System], str]) -> list[WordingCase]:
    return [
        {"value": value, "metric": words(value, "metric"), "inch": words(value, "inch")} for value in values
    ]


if __name__ == "__main__":
    sys.stdout.write(json.dumps(wording_cases(), indent=1, allow_nan=False) + "\n")
