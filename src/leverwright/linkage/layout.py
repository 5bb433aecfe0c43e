"""The unknowns and equations of one assembly, as index arrays made once and used for every pose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leverwright.geometry import Array, square_dirs, unit
from leverwright.linkage.carriers import Carriers, find_carriers, is_straight
from leverwright.linkage.lines_of_action import LinesOfAction, lines_of_action
from leverwright.linkage.mechanism import CHASSIS, Mechanism

__all__ = ["Index", "Joint", "Layout", "Pair", "find_layouts"]

Index = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Joint:
    """One point that two moving carriers share; `axis_to` is the other point when the pair is a hinge."""

    point: int
    carriers: tuple[int, int]
    axis_to: int | None = None


@dataclass(frozen=True, slots=True)
class JointRows:
    """The equations of all joints, one a row Ej: its two feet, its set-up direction and the carrier that turns it."""

    first: Index  # (Ej,)
    second: Index  # (Ej,)
    set_up_dir: Array  # (Ej, 3)
    carrier: Index  # (Ej,) 0 where the direction stays as it is


@dataclass(frozen=True, slots=True)
class Pair:
    """A bar, link, spring or strap between two feet; `item` counts in its own kind in the mechanism."""

    kind: str  # "bar", "link" (a body of two points) or "line"
    item: int
    feet: tuple[int, int]


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    """One assembly: what moves together, each unknown's twist, each equation.

    Unknowns are metres: a turn counts as the way of a place one `reach` off its centre.
    Equations in this order: joints (3, 2 or 1 rows each), spins, held hinges, bars and links.
    """

    mechanism: Mechanism
    carriers: Carriers
    moving: tuple[int, ...]  # carriers of this assembly that have unknowns
    unknown_carrier: Index  # (Q,)
    turn_dir: Array  # (Q, 3) 1/m, fixed direction over reach; 0 for a slide
    slide_dir: Array  # (Q, 3)
    centre: Array  # (Q, 3) m, a fixed centre of turning
    centre_point: Index  # (Q,) point that is the centre instead, -1 for none
    hinge_to: Index  # (Q,) second point of the hinge that gives the direction, -1 for none
    reach: Array  # (Q,) m
    feet: tuple[tuple[int, int], ...]  # (F,) (carrier, point)
    joints: tuple[Joint, ...]
    joint_rows: JointRows
    foot_carrier: Index  # (F,)
    pair_first: Index  # (L+S,) feet of bars and links, then of lines
    pair_second: Index  # (L+S,)
    spins: tuple[tuple[int, int, int], ...]  # (carrier, point, point): a straight body, its own spin left out
    held: tuple[int, ...]  # indices into mechanism.held_turns
    bars: tuple[Pair, ...]
    lines: tuple[Pair, ...]
    turns: tuple[int, ...]  # indices into mechanism.turns
    wheels: tuple[int, ...]
    wheel_feet: Index  # (W,)
    action: LinesOfAction

    @property
    def unknowns(self) -> int:
        """How many unknowns Q."""
        return len(self.unknown_carrier)

    @property
    def wheel_names(self) -> tuple[str, ...]:
        """Names of the wheels, in the order of every W axis."""
        return tuple(self.mechanism.wheels[w].name for w in self.wheels)

    @property
    def bar_names(self) -> tuple[str, ...]:
        """Names of bars and of bodies that act as links, in the order of every L axis."""
        mechanism = self.mechanism
        return tuple(
            mechanism.bars[pair.item].name if pair.kind == "bar" else mechanism.body_names[pair.item]
            for pair in self.bars
        )

    @property
    def line_names(self) -> tuple[str, ...]:
        """Names of springs and straps on two points, then of springs on a hinge: the order of every S axis."""
        return tuple(self.mechanism.lines[pair.item].name for pair in self.lines) + tuple(
            self.mechanism.turns[t].name for t in self.turns
        )


def find_layouts(mechanism: Mechanism) -> tuple[Layout, ...]:
    """One layout for each assembly: carriers joined by points, bars, springs or straps, chassis apart."""
    carriers = find_carriers(mechanism)
    fixed = {CHASSIS} | {c for c, carrier in enumerate(carriers.each) if carrier.guide is not None}
    groups = _groups(mechanism, carriers, fixed)
    layouts = [_layout(mechanism, carriers, tuple(group)) for group in groups]
    return (*layouts, *_rigid_layouts(mechanism, carriers))


def _rigid_layouts(mechanism: Mechanism, carriers: Carriers) -> list[Layout]:
    """One layout without unknowns for each body that carries wheels but is one with the chassis."""
    bodies = sorted({w.body for w in mechanism.wheels if carriers.of_body[w.body] == CHASSIS})
    nothing, none = np.zeros((0, 3)), np.zeros(0, dtype=np.int64)
    out = []
    for body in bodies:
        wheels = tuple(w for w, wheel in enumerate(mechanism.wheels) if wheel.body == body)
        feet = tuple((CHASSIS, mechanism.wheels[w].centre) for w in wheels)
        still = np.full(len(feet), CHASSIS, dtype=np.int64)
        out.append(
            Layout(
                mechanism,
                carriers,
                (),
                none,
                nothing,
                nothing,
                nothing,
                none,
                none,
                np.zeros(0),
                feet,
                (),
                JointRows(none, none, nothing, none),
                still,
                none,
                none,
                (),
                (),
                (),
                (),
                (),
                wheels,
                np.arange(len(wheels)),
                lines_of_action(none, still, ((), ()), ((), ()), range(len(wheels))),
            )
        )
    return out


def _body_foot(mechanism: Mechanism, carriers: Carriers, point: int) -> int:
    """Carrier that a bar or spring ending at `point` acts on: the first in the file that is no plain link."""
    for body in mechanism.first_bodies(point):
        if carriers.of_body[body] >= 0:
            return carriers.of_body[body]
    for index, carrier in enumerate(carriers.each):
        if point in carrier.points:
            return index
    raise ValueError(f"point {mechanism.point_names[point]!r} is on nothing")


def _all_pairs(mechanism: Mechanism, carriers: Carriers) -> list[tuple[str, int, tuple[int, int]]]:
    pairs = [("bar", i, bar.ends) for i, bar in enumerate(mechanism.bars)]
    for body in carriers.links:
        first, second = mechanism.body_points[body]
        pairs.append(("link", body, (first, second)))
    return pairs + [("line", i, line.ends) for i, line in enumerate(mechanism.lines)]


def _groups(mechanism: Mechanism, carriers: Carriers, fixed: set[int]) -> list[list[int]]:
    edges: list[tuple[int, int]] = []
    for point in range(len(mechanism.point_names)):
        sharing = [c for c, carrier in enumerate(carriers.each) if point in carrier.points and c not in fixed]
        edges += [(sharing[0], c) for c in sharing[1:]]
    for _, _, ends in _all_pairs(mechanism, carriers):
        edges.append((_body_foot(mechanism, carriers, ends[0]), _body_foot(mechanism, carriers, ends[1])))
    for turn in (*mechanism.turns, *mechanism.held_turns):
        edges.append((carriers.of_body[turn.bodies[0]], carriers.of_body[turn.bodies[1]]))
    label = {c: c for c in range(len(carriers.each)) if c not in fixed}
    for a, b in edges:
        if a in label and b in label and label[a] != label[b]:
            keep, drop = sorted((label[a], label[b]))
            label = {c: keep if v == drop else v for c, v in label.items()}
    return [[c for c in label if label[c] == root] for root in sorted(set(label.values()))]


@dataclass(slots=True)
class _Unknowns:
    """Columns being gathered."""

    carrier: list[int]
    turn: list[Array]
    slide: list[Array]
    centre: list[Array]
    centre_point: list[int]
    hinge_to: list[int]
    reach: list[float]

    def add_turn(
        self, carrier: int, turn_dir: Array, centre: Array, reach: float, hinge: tuple[int, int] = (-1, -1)
    ) -> None:
        self.carrier.append(carrier)
        self.turn.append(turn_dir / reach)
        self.slide.append(np.zeros(3))
        self.centre.append(centre)
        self.centre_point.append(hinge[0])
        self.hinge_to.append(hinge[1])
        self.reach.append(reach)

    def add_slide(self, carrier: int, slide_dir: Array) -> None:
        self.add_turn(carrier, np.zeros(3), np.zeros(3), 1.0)
        self.slide[-1] = slide_dir


def _add_unknowns(columns: _Unknowns, mechanism: Mechanism, carriers: Carriers, index: int) -> None:
    carrier = carriers.each[index]
    places = mechanism.points
    normal = None if mechanism.normal is None else np.array(mechanism.normal)
    sides = np.eye(3) if normal is None else np.stack(square_dirs(normal))
    if len(carrier.points) == 1 and not carrier.bodies:
        for side in sides:
            columns.add_slide(index, side)
        return
    shared = [p for p in carrier.points if p in carriers.each[CHASSIS].points]
    middle = places[list(carrier.points)].mean(axis=0)
    start = places[shared[0]] if shared else middle
    reach = float(max(np.linalg.norm(places[list(carrier.points)] - start, axis=1).max(), 1e-3))
    if normal is not None:
        columns.add_turn(index, normal, start, reach, (shared[0] if shared else -1, -1))
        if not shared:
            for side in sides:
                columns.add_slide(index, side)
        return
    if len(shared) >= 2:
        far = shared[int(np.argmax(np.linalg.norm(places[shared] - start, axis=1)))]
        columns.add_turn(index, unit(places[far] - start), start, reach, (shared[0], far))
        return
    for side in np.eye(3):
        columns.add_turn(index, side, start, reach, (shared[0] if shared else -1, -1))
    if not shared:
        for side in np.eye(3):
            columns.add_slide(index, side)


def _joints(mechanism: Mechanism, carriers: Carriers, group: Sequence[int]) -> list[Joint]:
    """Equations of shared points: a tree at each point, pairs that already share one first (they are hinges)."""
    met: dict[tuple[int, int], list[int]] = {}
    joints: list[Joint] = []
    chassis = set(carriers.each[CHASSIS].points)
    for point in range(len(mechanism.point_names)):
        sharing = [c for c in group if point in carriers.each[c].points]
        if len(sharing) < 2 or point in chassis:
            continue
        pairs = [(a, b) for k, a in enumerate(sharing) for b in sharing[k + 1 :]]
        pairs.sort(key=lambda pair: -len(met.get(pair, [])))
        label = {c: c for c in sharing}
        for a, b in pairs:
            if label[a] == label[b]:
                continue
            label = {c: label[a] if v == label[b] else v for c, v in label.items()}
            earlier = met.get((a, b), [])
            if len(earlier) < 2:
                joints.append(Joint(point, (a, b), earlier[0] if earlier else None))
        for pair in pairs:
            met.setdefault(pair, []).append(point)
    return joints


def _joint_rows(mechanism: Mechanism, joints: Sequence[Joint], feet: Sequence[tuple[int, int]]) -> JointRows:
    """Three rows a ball, two a pin in a plane; the second point of a hinge adds two, square to its line.

    Its distance from the first is the same on both bodies, so a third row would only repeat; the two directions
    turn with the first body, for fixed ones could come to lie along the line.
    """
    first, second, dirs, turned = [], [], [], []
    for joint, pair in zip(joints, feet, strict=True):
        rows: tuple[Array, ...]
        if mechanism.normal is not None:
            rows = square_dirs(np.array(mechanism.normal))
        elif joint.axis_to is None:
            rows = tuple(np.eye(3))
        else:
            rows = square_dirs(unit(mechanism.points[joint.point] - mechanism.points[joint.axis_to]))
        for row in rows:
            first.append(pair[0])
            second.append(pair[1])
            dirs.append(row)
            turned.append(CHASSIS if joint.axis_to is None else joint.carriers[0])
    shape = np.array(dirs).reshape(-1, 3)
    return JointRows(
        np.array(first, dtype=np.int64),
        np.array(second, dtype=np.int64),
        shape,
        np.array(turned, dtype=np.int64),
    )


def _spins(mechanism: Mechanism, carriers: Carriers, group: Sequence[int]) -> list[tuple[int, int, int]]:
    if mechanism.normal is not None:
        return []
    spins: list[tuple[int, int, int]] = []
    for index in group:
        points = carriers.each[index].points
        shared = [p for p in points if p in carriers.each[CHASSIS].points]
        if len(points) >= 2 and len(shared) < 2 and is_straight(mechanism.points[list(points)]):
            spread = np.linalg.norm(mechanism.points[list(points)] - mechanism.points[points[0]], axis=1)
            spins.append((index, points[0], points[int(np.argmax(spread))]))
    return spins


def _layout(mechanism: Mechanism, carriers: Carriers, group: tuple[int, ...]) -> Layout:
    columns = _Unknowns([], [], [], [], [], [], [])
    for index in group:
        _add_unknowns(columns, mechanism, carriers, index)
    feet: dict[tuple[int, int], int] = {}

    def foot(carrier: int, point: int) -> int:
        return feet.setdefault((carrier, point), len(feet))

    joints = _joints(mechanism, carriers, group)
    joint_feet = [(foot(j.carriers[0], j.point), foot(j.carriers[1], j.point)) for j in joints]
    joint_rows = _joint_rows(mechanism, joints, joint_feet)
    bars: list[Pair] = []
    lines: list[Pair] = []
    for kind, item, ends in _all_pairs(mechanism, carriers):
        on = [_body_foot(mechanism, carriers, p) for p in ends]
        if on[0] != on[1] and (on[0] in group or on[1] in group):
            pair = Pair(kind, item, (foot(on[0], ends[0]), foot(on[1], ends[1])))
            (lines if kind == "line" else bars).append(pair)
    wheels = [w for w, wheel in enumerate(mechanism.wheels) if carriers.of_body[wheel.body] in group]
    wheel_feet = [
        foot(carriers.of_body[mechanism.wheels[w].body], mechanism.wheels[w].centre) for w in wheels
    ]

    def here(bodies: tuple[int, int]) -> bool:
        return any(carriers.of_body[b] in group for b in bodies)

    foot_carrier = np.array([c for c, _ in feet], dtype=np.int64)
    unknown_carrier = np.array(columns.carrier, dtype=np.int64)
    first, second = ([pair.feet[k] for pair in (*bars, *lines)] for k in (0, 1))
    held = joint_rows.first.tolist(), joint_rows.second.tolist()
    action = lines_of_action(unknown_carrier, foot_carrier, held, (first, second), wheel_feet)
    return Layout(
        mechanism,
        carriers,
        group,
        unknown_carrier,
        np.array(columns.turn),
        np.array(columns.slide),
        np.array(columns.centre),
        np.array(columns.centre_point, dtype=np.int64),
        np.array(columns.hinge_to, dtype=np.int64),
        np.array(columns.reach),
        tuple(feet),
        tuple(joints),
        joint_rows,
        foot_carrier,
        np.array(first, dtype=np.int64),
        np.array(second, dtype=np.int64),
        tuple(_spins(mechanism, carriers, group)),
        tuple(i for i, t in enumerate(mechanism.held_turns) if here(t.bodies)),
        tuple(bars),
        tuple(lines),
        tuple(i for i, t in enumerate(mechanism.turns) if here(t.bodies)),
        tuple(wheels),
        np.array(wheel_feet, dtype=np.int64),
        action,
    )
