"""Mechanisms drawn for the laws, and the same vehicle written in other ways.

Each is one of the reference mechanisms with every coordinate moved by up to `REACH`, in tenths of a
millimetre as a tape would be read. What cannot swing through `SWING`, by SciPy's root finder, is not
a vehicle and is drawn again. The shock is given the room that the linkage asks.
"""

from __future__ import annotations

import copy
import math
import tomllib
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
from hypothesis import assume
from hypothesis import strategies as st

from tests.reference.root_by_pose import RootByPose
from tests.reference.vehicle import VEHICLES, read_text

File = dict[str, Any]

REACH = 120  # tenths of a millimetre
SWING = (-0.02, -0.01, 0.0, 0.01, 0.02)  # m, all wheels
LEAST_RATIO = 0.05  # below it the spring hardly moves: figures relative to it say nothing


def as_text(file: File) -> str:
    """TOML of a project held as nested dictionaries, tables in the dictionary's order."""
    lines = [f"{key} = {_value(value)}" for key, value in file.items() if not isinstance(value, dict)]
    for table, rows in file.items():
        if isinstance(rows, dict):
            lines += ["", f"[{table}]"] + [f"{_key(name)} = {_value(row)}" for name, row in rows.items()]
    return "\n".join(lines) + "\n"


def _key(name: str) -> str:
    return name if all(c.isalnum() or c in "-_" for c in name) else f'"{name}"'


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return "[" + ", ".join(_value(entry) for entry in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items()) + " }"
    return repr(value)


def base(name: str) -> File:
    """A reference mechanism as nested dictionaries."""
    return tomllib.loads((VEHICLES / f"{name}.toml").read_text(encoding="utf-8"))


def place_of(point: Any) -> list[float]:
    """Coordinates of a point in either of its two forms."""
    return list(point["at"] if isinstance(point, dict) else point)


def with_places(file: File, move: Callable[[str, list[float]], list[float]]) -> File:
    """The same file with every point where `move` puts it."""
    moved = copy.deepcopy(file)
    for name, point in moved["points"].items():
        at = [round(c, 9) for c in move(name, place_of(point))]
        moved["points"][name] = {**point, "at": at} if isinstance(point, dict) else at
    return moved


@st.composite
def _drawn(draw: st.DrawFn, name: str) -> File:
    shift = st.integers(-REACH, REACH).map(lambda tenths: tenths / 10)
    file = with_places(base(name), lambda _, at: [c + draw(shift) for c in at])
    for wheel in file["wheels"].values():
        # Which way a spin axis points outward hangs on the sign of y, which these laws do not keep.
        wheel.pop("axis", None)
    for shock in file["shocks"].values():
        shock |= {"length_open": 900, "length_closed": 5, "rate": draw(st.integers(8, 60))}
        shock["gas"] = draw(st.sampled_from([0, 45]))
    _give_the_shock_room(file)
    return file


def _give_the_shock_room(file: File) -> None:
    """Set the shock's two lengths just outside what the swing needs; reject what cannot swing."""
    vehicle = read_text(as_text(file))
    try:
        placed = RootByPose(vehicle).sweep(list(SWING))
    except ArithmeticError:
        assume(False)
        raise
    for spring, (a, b) in vehicle.springs.items():
        lengths = [float(np.linalg.norm(where[a] - where[b])) * 1e3 for where in placed]
        ratios = [(one - two) / 10 for one, two in pairwise(lengths)]
        assume(min(ratios) > LEAST_RATIO and max(ratios) < 2.5 and max(ratios) < 2 * min(ratios))
        shock = file["shocks"][file["springs"][spring]["shock"]]
        room = shock.setdefault("room", [math.inf, 0.0])
        shock["room"] = [min(room[0], *lengths), max(room[1], *lengths)]
    for shock in file["shocks"].values():
        shortest, longest = shock.pop("room")
        shock["length_closed"] = round(shortest - 4, 1)
        shock["length_open"] = round(longest + 3, 1)


def flat_trains() -> st.SearchStrategy[File]:
    """Flat trailing arms with link and rocker."""
    return _drawn("flat-train")


def wishbone_corners() -> st.SearchStrategy[File]:
    """Double wishbone corners with a push link and a skewed rocker."""
    return _drawn("wishbone-corner")


def beam_axles() -> st.SearchStrategy[File]:
    """Beam axles on four links with two rockers."""
    return _drawn("beam-axle")


def mechanisms() -> st.SearchStrategy[File]:
    """One of all kinds."""
    names = ["flat-train", "flat-four-bar", "trailing-arm", "wishbone-corner", "beam-axle", "swing-arm"]
    return st.one_of([_drawn(name) for name in names])


# -- the same vehicle, written otherwise ------------------------------------------------------


def bars_swapped(file: File) -> File:
    """Every bar and spring with its ends the other way round."""
    other = copy.deepcopy(file)
    for table in ("bars", "springs"):
        for row in other[table].values():
            row["ends"] = row["ends"][::-1]
    return other


def tables_reversed(file: File) -> File:
    """Tables, rows and the points of each body in the opposite order; `chassis` stays where it falls."""
    turned = {key: copy.deepcopy(value) for key, value in reversed(file.items())}
    for table, rows in turned.items():
        if isinstance(rows, dict):
            turned[table] = dict(reversed(rows.items()))
    turned["bodies"] = {body: points[::-1] for body, points in turned["bodies"].items()}
    return turned


def in_other_units(file: File) -> File:
    """Lengths in metres or inches, rates in lbf/in, loads in pounds, as strings."""
    other = with_places(file, lambda _, at: at)
    for name, point in other["points"].items():
        at = [f"{c / 1000!r} m" if i else f"{c / 25.4!r} in" for i, c in enumerate(place_of(point))]
        other["points"][name] = {**point, "at": at} if isinstance(point, dict) else at
    for shock in other["shocks"].values():
        shock["rate"] = f"{shock['rate'] / (4.4482216152605 / 25.4)!r} lbf/in"
        shock["length_open"] = f"{shock['length_open'] / 10!r} cm"
        shock["gas"] = f"{shock.get('gas', 0) / 1000!r} kN"
    for wheel in other["wheels"].values():
        wheel["load"] = f"{wheel['load'] / 0.45359237!r} lb"
        wheel["radius"] = f"{wheel['radius'] / 25.4!r} in"
    return other


def origin_moved(file: File) -> File:
    """Everything 5 m forward, 0.7 m aside and 0.3 m up."""
    by = [5000, 300] if "plane" in file else [5000, 700, 300]
    return with_places(file, lambda _, at: [c + d for c, d in zip(at, by, strict=True)])


def turned_about_z(file: File, degree: float) -> File:
    """Everything turned about the vertical through the origin."""
    c, s = math.cos(math.radians(degree)), math.sin(math.radians(degree))
    return with_places(file, lambda _, at: [c * at[0] - s * at[1], s * at[0] + c * at[1], at[2]])


def mirrored(file: File) -> File:
    """The other side of the vehicle: y negated, in a flat drawing its first axis."""
    which = 0 if "plane" in file else 1
    return with_places(file, lambda _, at: [-c if i == which else c for i, c in enumerate(at)])


def sided(file: File) -> File:
    """The same corner written as a left side that `mirror = true` doubles: names end in -left."""
    left: File = {key: value for key, value in file.items() if not isinstance(value, dict)} | {"mirror": True}
    left["points"] = {f"{name}-left": place_of(point) for name, point in file["points"].items()}
    left["bodies"] = {
        body if body == "chassis" else f"{body}-left": [f"{p}-left" for p in points]
        for body, points in file["bodies"].items()
    }
    for table in ("bars", "springs"):
        left[table] = {
            f"{name}-left": row | {"ends": [f"{end}-left" for end in row["ends"]]}
            for name, row in file[table].items()
        }
    left["shocks"] = file["shocks"]
    left["wheels"] = {
        f"{name}-left": row | {"body": f"{row['body']}-left", "centre": f"{row['centre']}-left"}
        for name, row in file["wheels"].items()
    }
    return left
