"""Motions that nothing holds, sorted by what they would do on the road."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from leverwright.geometry import Array, cross
from leverwright.linkage import Assembly, Layout

__all__ = ["LooseMotion", "loose_motions"]

_STILL = 1e-3  # of the point that moves most; less than that is rounding in a null vector


@dataclass(frozen=True, slots=True)
class LooseMotion:
    """One motion at the set-up pose.

    step    point -> (3,) movement, the point that moves most going 1
    bodies  names of the bodies that move
    kind    "spin" a body turns about the line of its own joints and moves nothing else: harmless;
            "sideways", "along", "up" the wheel's centre drifts that way;
            "steers" the wheel turns about an upright line;
            "swings" a part without a wheel moves
    """

    step: dict[str, Array]
    bodies: tuple[str, ...]
    kind: Literal["spin", "sideways", "along", "up", "steers", "swings"]


def loose_motions(assembly: Assembly) -> tuple[LooseMotion, ...]:
    """Each motion that moves no wheel up or down and that neither body nor bar nor hold stops."""
    play = assembly.freedom.play
    return tuple(_motion(assembly, play[:, column]) for column in range(play.shape[1]))


def _motion(assembly: Assembly, play: Array) -> LooseMotion:
    layout, basis = assembly.layout, assembly.basis
    turn = np.einsum("bq,qi,q->bi", basis.member, basis.turn[0], play)
    shift = np.einsum("bq,qi,q->bi", basis.member, basis.shift[0], play)
    places = layout.mechanism.points
    moved = {
        (carrier, point): cross(turn[carrier], places[point]) + shift[carrier]
        for carrier in layout.moving
        for point in layout.carriers.each[carrier].points
    }
    most = max((float(np.linalg.norm(step)) for step in moved.values()), default=0.0)
    if most == 0.0:
        return LooseMotion({}, (), "spin")
    going = {key: step / most for key, step in moved.items() if np.linalg.norm(step) > _STILL * most}
    names = layout.mechanism.point_names
    carriers = dict.fromkeys(carrier for carrier, _ in going)
    bodies = tuple(layout.mechanism.body_names[b] for c in carriers for b in layout.carriers.each[c].bodies)
    step = {names[point]: vector for (_, point), vector in going.items()}
    return LooseMotion(step, bodies, _kind(layout, going, turn / most))


def _kind(
    layout: Layout, going: dict[tuple[int, int], Array], turn: Array
) -> Literal["spin", "sideways", "along", "up", "steers", "swings"]:
    joined = {point for _, point in layout.feet} | {j.point for j in layout.joints}
    if not any(point in joined for _, point in going):
        return "spin"
    for column in layout.wheels:
        wheel = layout.mechanism.wheels[column]
        carrier = layout.carriers.of_body[wheel.body]
        centre = going.get((carrier, wheel.centre))
        if centre is not None and np.linalg.norm(centre) > 0.3:
            axis = int(np.argmax(np.abs(centre)))
            return ("along", "sideways", "up")[axis]
        if any(c == carrier for c, _ in going) and np.linalg.norm(turn[carrier]) > 0.0:
            return "steers"
    return "swings"
