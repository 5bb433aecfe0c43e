"""Invented vehicles of the virtual garage: true dimensions, springs and loads, drawn from a seed.

Each begins as an archetype for measurements drawn at random and then has every place thrown about, so that no two
levers are alike and none stands square. What is drawn here is the truth; nobody in the garage sees it.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from leverwright.project import ProjectError
from leverwright.project.archetypes import write_archetype
from tests.reference.vehicle import MM, Array, CoilLaw, Vehicle

__all__ = ["KINDS", "TrueVehicle", "draw_vehicle"]

KINDS = ("trailing-arm", "wishbone", "beam-axle", "swing-arm")
THROWN = 12.0  # mm, standard deviation of each coordinate about the archetype's
BUILT = 0.7  # mm, how well the right side was built to mirror the left one, each coordinate
_BODY_OF_ONE_SIDE = "-left"


@dataclass(frozen=True, slots=True)
class TrueVehicle:
    """What is true of one vehicle, SI; `points` on the left and in the middle, `built` with the right side too.

    tables    the file's own tables, for names and structure
    load      kg on each wheel of `assembly`; unsprung likewise
    law       of each spring; friction N, half of going in less coming out; stuck: share of it that holds now
    wheel     the one that answers
    """

    kind: str
    tables: Mapping[str, Any]
    points: Mapping[str, Array]
    assembly: Vehicle
    load: Mapping[str, float]
    unsprung: Mapping[str, float]
    law: CoilLaw
    friction: float
    stuck: Mapping[str, float]
    wheel: str

    @property
    def flat(self) -> bool:
        """Is it drawn in one plane?"""
        return self.assembly.flat


def draw_vehicle(kind: str, rng: np.random.Generator) -> TrueVehicle:
    """One true vehicle of that kind; it may still be one that nobody would build: see `garage_truth`."""
    while True:
        typed = _measurements(kind, rng)
        try:
            tables = tomllib.loads(write_archetype(kind, typed))
            break
        except ProjectError:
            continue  # no such vehicle can work: other measurements
    points = {name: _thrown(place, rng) for name, place in tables["points"].items()}
    law = CoilLaw(
        rate=typed["rate"] / MM,
        length_open=typed["shock-open"] * MM,
        length_closed=typed["shock-closed"] * MM,
        preload=float(rng.uniform(2, 9)) * MM,
        gas=0.0,
    )
    assembly = _assembly(kind, tables, points, law, rng)
    wheels = list(assembly.wheels)
    middle = typed["load"]
    return TrueVehicle(
        kind,
        tables,
        points,
        assembly,
        {wheel: middle * float(rng.normal(1.0, 0.02)) for wheel in wheels},
        {wheel: float(typed["unsprung"]) for wheel in wheels},
        law,
        float(rng.uniform(5, 40)),
        {spring: float(rng.uniform(-1, 1)) for spring in assembly.springs},
        wheels[0],
    )


def _measurements(kind: str, rng: np.random.Generator) -> dict[str, float]:
    """Numbers that a builder could give, mm, kg and N/mm."""
    open_ = rng.uniform(260, 350)
    load = rng.uniform(35, 95)
    typed = {
        "wheel-radius": rng.uniform(170, 280),
        "load": load,
        "unsprung": load * rng.uniform(0.08, 0.18),
        "shock-open": open_,
        "shock-closed": open_ - rng.uniform(50, 90),
        "rate": rng.uniform(10, 45),
    }
    own = {
        "trailing-arm": {"arm": (340, 560)},
        "swing-arm": {"arm": (420, 640)},
        "wishbone": {"track": (950, 1350), "frame-width": (380, 560)},
        "beam-axle": {"track": (850, 1300), "link": (350, 600)},
    }[kind]
    return {key: round(float(value), 1) for key, value in typed.items()} | {
        key: round(float(rng.uniform(*span)), 0) for key, span in own.items()
    }


def _thrown(place: list[float] | dict[str, Any], rng: np.random.Generator) -> Array:
    """The place [m] in truth; what stands in the middle plane stays in it."""
    at = np.array(place["at"] if isinstance(place, dict) else place, dtype=float)
    off = rng.normal(0.0, THROWN, len(at))
    if len(at) == 3 and at[1] == 0.0:
        off[1] = 0.0
    return np.asarray((at + off) * MM)


def _assembly(
    kind: str, tables: Mapping[str, Any], points: Mapping[str, Array], law: CoilLaw, rng: np.random.Generator
) -> Vehicle:
    """What the answering wheel moves in: one side alone where the sides move by themselves, else both."""
    both = kind == "beam-axle"
    built = dict(points)
    bodies = {name: list(carried) for name, carried in tables["bodies"].items()}
    bars = {name: tuple(bar["ends"]) for name, bar in tables["bars"].items()}
    springs = {name: tuple(spring["ends"]) for name, spring in tables["springs"].items()}
    wheels = {name: (wheel["body"], wheel["centre"]) for name, wheel in tables["wheels"].items()}
    if both:
        for name, at in points.items():
            if name.endswith(_BODY_OF_ONE_SIDE):
                built[_right(name)] = at * (1.0, -1.0, 1.0) + rng.normal(0.0, BUILT * MM, 3)
        for name, carried in list(bodies.items()):
            if name.endswith(_BODY_OF_ONE_SIDE):
                bodies[_right(name)] = [_right(p) for p in carried]
            else:
                bodies[name] = carried + [_right(p) for p in carried if p.endswith(_BODY_OF_ONE_SIDE)]
        for ends in (bars, springs):
            for name, (one, two) in list(ends.items()):
                if name.endswith(_BODY_OF_ONE_SIDE):
                    ends[_right(name)] = (_right(one), _right(two))
        for name, (body, centre) in list(wheels.items()):
            wheels[_right(name)] = (_right(body), _right(centre))
    return Vehicle(
        text="",
        flat="plane" in tables,
        points=built,
        bodies=bodies,
        bars=bars,
        bar_length={n: float(np.linalg.norm(built[a] - built[b])) for n, (a, b) in bars.items()},
        springs=springs,
        laws=dict.fromkeys(springs, law),
        twists={},
        wheels=wheels,
        axes={},
        rails={},
    )


def _right(name: str) -> str:
    return name.removesuffix("-left") + "-right" if name.endswith("-left") else name
