"""Where one assembly's wheels are under the ground's loads: exact standing positions, each found from the last."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import OpenPoseError, Posed, pose_at, posed_from
from leverwright.linkage.kinematics import wheel_paths
from leverwright.ride.cycle import Cycle, Travels
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.sprung import SpringState, SprungAssembly, spring_state
from leverwright.ride.standing import stand

__all__ = ["Part", "Placed", "place_wheels"]

_PATHS = 60  # rounds until a wheel's path and the ground's lean agree; three are usual
_SAME = 1e-12  # of the load
_CLOSE = (
    1e-9  # of the load: what a pose closed from its neighbour can be told to, less than a nanometre of height
)
_NEAR_STEPS = 8  # Newton steps from the last standing position; two are usual
_FAR = 0.03  # m; a longer step is no small change any more, and the standing is looked for anew


@dataclass(frozen=True, slots=True)
class Part:
    """One assembly as the chassis stands on it; `radius` (W,) m of each wheel unloaded."""

    sprung: SprungAssembly
    travels: Travels | None
    heave: Cycle
    radius: Array

    @property
    def names(self) -> tuple[str, ...]:
        """Its wheels."""
        return self.sprung.assembly.layout.wheel_names

    @property
    def rigid(self) -> bool:
        """Whether its wheels sit on the chassis itself."""
        return not self.sprung.assembly.layout.moving

    @property
    def centres(self) -> Array:
        """Wheel centres in the set-up pose, (W, 3) m."""
        mechanism = self.sprung.assembly.layout.mechanism
        return mechanism.points[[mechanism.wheels[w].centre for w in self.sprung.assembly.layout.wheels]]


@dataclass(frozen=True, slots=True)
class Placed:
    """Wheels of one assembly: centres (W, 3) m, their change by the loads (W, 3, W) m/N, travel (W,) m.

    posed, springs  the pose on its springs that the next one may be found from; None on preload or stops
    """

    centre: Array
    gives: Array
    height: Array
    posed: Posed | None = None
    springs: SpringState | None = None


def place_wheels(part: Part, loads: Array, up: Array, last: Placed | None) -> Placed | str:
    """The wheels under ground loads (W,) N along `up`, or why they have no place; `last` is a place nearby."""
    count = len(part.names)
    if part.rigid:
        return Placed(part.centres, np.zeros((count, 3, count)), np.zeros(count))
    if np.isnan(part.sprung.unsprung).any():
        return "unsprung is not stated: what the springs carry is the load less the unsprung mass"
    net = loads - part.sprung.unsprung * STANDARD_GRAVITY
    near = None if last is None else _near(part, net, up, last)
    return _anew(part, net, up) if near is None else near


def _felt(part: Part, posed: Posed, net: Array, up: Array) -> tuple[Array, Array, Array]:
    """Force [N] at each driver (K,), the wheels' paths (W, 3, K), their part along `up` (W, K).

    The springs balance the vertical alone: a ground that leans pushes along the wheel's own path.
    """
    paths = wheel_paths(part.sprung.assembly.basis, posed.pose)
    moved = np.einsum("wqi,qk->wik", paths[0], posed.rates.dq_dz[0])
    lift = np.einsum("wik,i->wk", moved, up)
    return net @ lift, moved, lift


def _told(part: Part, posed: Posed, springs: SpringState, ways: tuple[Array, Array], *, free: bool) -> Placed:
    """`ways` as in _felt; `free` where the springs work."""
    count = len(part.names)
    moved, lift = ways
    gives = np.zeros((count, 3, count))
    rate = springs.wheel_rate[0]
    if free and np.linalg.matrix_rank(rate) == len(rate):
        gives = np.einsum("wik,kv->wiv", moved, np.linalg.solve(rate, lift.T))
    centre = posed.pose.foot[0, part.sprung.assembly.layout.wheel_feet]
    height = posed.pose.wheel_height[0]
    return Placed(centre, gives, height, posed, springs) if free else Placed(centre, gives, height)


def _near(part: Part, net: Array, up: Array, last: Placed) -> Placed | None:
    """Newton from the last pose, as long as the springs work; None where that leads out of their travel."""
    posed, springs = last.posed, last.springs
    if posed is None or springs is None:
        return None
    for _ in range(_NEAR_STEPS):
        felt, *ways = _felt(part, posed, net, up)
        miss = springs.wheel_push[0] - felt
        if np.abs(miss).max() <= _CLOSE * np.abs(net).max():
            return _told(part, posed, springs, (ways[0], ways[1]), free=True)
        try:
            step = np.linalg.solve(springs.wheel_rate[0], -miss)
        except np.linalg.LinAlgError:
            return None
        tried = None if np.abs(step).max() > _FAR else _moved(part, posed, step)
        if tried is None:
            return None
        posed, springs = tried, spring_state(part.sprung, tried)
        if not np.isfinite(springs.wheel_push).all():
            return None
    return None


def _moved(part: Part, posed: Posed, step: Array) -> Posed | None:
    """The pose a step (K,) m further; None outside the travel."""
    travels, assembly = part.travels, part.sprung.assembly
    if travels is None or travels.range is None:
        return None
    heights = posed.pose.wheel_height + (step if travels.driving.each else 0.0)
    at = float(heights.mean()) if travels.driving.each else float(posed.travel[0] + step[0])
    if not travels.range.droop.travel < at < travels.range.bump.travel:
        return None
    if travels.driving.each:
        return posed_from(assembly, travels.track, travels.driving, heights, posed.state)
    try:
        return pose_at(assembly, travels.track, travels.driving, np.array([at]))
    except OpenPoseError:
        return None


def _anew(part: Part, net: Array, up: Array) -> Placed | str:
    """The standing under vertical loads, over and over until they are what the ground's lean makes of the true ones."""
    count = len(part.names)
    asked = net
    for _ in range(_PATHS):
        load = asked / STANDARD_GRAVITY + part.sprung.unsprung
        standing = stand(replace(part.sprung, load=load), part.travels, part.heave)
        if standing.posed is None or standing.springs is None:
            return standing.because or "it has no standing position"
        felt, *ways = _felt(part, standing.posed, net, up)
        new = felt if len(felt) == count else np.full(count, felt[0] / count)
        if np.abs(new - asked).max() <= _SAME * np.abs(net).max(initial=1.0):
            free = standing.on == "springs"
            return _told(part, standing.posed, standing.springs, (ways[0], ways[1]), free=free)
        asked = new
    return "its wheels find no place along their own paths"
