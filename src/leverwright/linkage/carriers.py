"""What moves as one: bodies merged where they are rigidly joined, links of two points, free and led points."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage.mechanism import CHASSIS, Mechanism

__all__ = ["Carrier", "Carriers", "find_carriers", "is_straight"]

# Three holes nearer than this to one line cannot stop a body turning about it; a thousandth of their spread
# is under what a tape can tell, and a bush gives more.
_STRAIGHT = 1e-3


@dataclass(frozen=True, slots=True)
class Carrier:
    """One rigid thing: bodies joined for good, a free point, or a point led along a line."""

    bodies: tuple[int, ...]
    points: tuple[int, ...]
    guide: int | None = None


@dataclass(frozen=True, slots=True)
class Carriers:
    """All rigid things (0 is the chassis), which one each body is, and the bodies that act as plain links."""

    each: tuple[Carrier, ...]
    of_body: tuple[int, ...]  # -1 for a body that acts as a link
    links: tuple[int, ...]


def is_straight(places: Array) -> bool:
    """True when the places (n, 3) lie on one line, or are fewer than three."""
    if len(places) < 3:
        return True
    spread = np.linalg.svd(places - places.mean(axis=0), compute_uv=False)
    return bool(spread[1] <= _STRAIGHT * spread[0])


def find_carriers(mechanism: Mechanism) -> Carriers:
    """Sort bodies into rigid things: joined at three points off a line (two in a flat drawing) they are one."""
    owners = _owners(mechanism)
    links = _links(mechanism, owners)
    root = _merge(mechanism, links)
    order = [b for b in range(len(mechanism.body_names)) if b not in links]
    roots = sorted({root[b] for b in order})
    each = [_carrier(mechanism, [b for b in order if root[b] == r]) for r in roots]
    held = {g.point: index for index, g in enumerate(mechanism.guides)}
    each += [Carrier((), (point,), guide=index) for point, index in held.items()]
    used = {p for bar in mechanism.bars for p in bar.ends} | {
        p for line in mechanism.lines for p in line.ends
    }
    loose = sorted(p for p in used if not owners[p] and p not in held)
    each += [Carrier((), (point,)) for point in loose]
    of_body = tuple(-1 if b in links else roots.index(root[b]) for b in range(len(mechanism.body_names)))
    return Carriers(tuple(each), of_body, links)


def _owners(mechanism: Mechanism) -> list[list[int]]:
    owners: list[list[int]] = [[] for _ in mechanism.point_names]
    for body, points in enumerate(mechanism.body_points):
        for point in points:
            owners[point].append(body)
    return owners


def _carrier(mechanism: Mechanism, bodies: Sequence[int]) -> Carrier:
    return Carrier(tuple(bodies), _unique(p for b in bodies for p in mechanism.body_points[b]))


def _unique(points: Iterable[int]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(points))


def _links(mechanism: Mechanism, owners: Sequence[Sequence[int]]) -> tuple[int, ...]:
    """Bodies of two points that do nothing but keep two other bodies apart: bars by another name."""
    busy = {w.body for w in mechanism.wheels}
    busy |= {b for t in (*mechanism.turns, *mechanism.held_turns) for b in t.bodies}
    candidates = [
        b
        for b, points in enumerate(mechanism.body_points)
        if b != CHASSIS and len(points) == 2 and b not in busy
    ]
    found: list[int] = []
    for body in candidates:
        partners = [
            {o for o in owners[p] if o != body and o not in found} for p in mechanism.body_points[body]
        ]
        if all(partners) and not partners[0] & partners[1]:
            found.append(body)
    return tuple(found)


def _merge(mechanism: Mechanism, links: Sequence[int]) -> list[int]:
    root = list(range(len(mechanism.body_names)))

    def find(body: int) -> int:
        while root[body] != body:
            body = root[body]
        return body

    members = {b: set(p) for b, p in enumerate(mechanism.body_points) if b not in links}
    pair = _next_pair(mechanism, members)
    while pair is not None:
        keep, join = pair
        members[keep] |= members.pop(join)
        root[find(join)] = find(keep)
        pair = _next_pair(mechanism, members)
    return [find(b) for b in range(len(root))]


def _next_pair(mechanism: Mechanism, members: Mapping[int, set[int]]) -> tuple[int, int] | None:
    """Two bodies that are rigidly joined, the earlier first; None when all are apart."""
    for a in sorted(members):
        for b in sorted(members):
            if b > a and _rigid_pair(mechanism, sorted(members[a] & members[b])):
                return a, b
    return None


def _rigid_pair(mechanism: Mechanism, shared: Sequence[int]) -> bool:
    if mechanism.normal is not None:
        return len(shared) >= 2
    return len(shared) >= 3 and not is_straight(mechanism.points[list(shared)])
