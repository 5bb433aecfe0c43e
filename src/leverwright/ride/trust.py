"""Where a ± that comes from slopes is not to be trusted: close to dead centre the answers bend.

A linear ± says that the answer moves alike for an error either way. Near dead centre the ratio goes as one over the
sine of the angle that is left, so that the two ways differ; moving everything by two standard deviations along the
direction that tells most shows by how much. Source: JCGM 100:2008 (GUM), note to 5.1.2, and JCGM 101:2008, 5.8.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed
from leverwright.linkage.closing import CLOSED, Problem
from leverwright.linkage.kinematics import Basis, advance, basis_of, evaluate
from leverwright.linkage.mechanism import Geometry, measured_bar_length
from leverwright.linkage.rates import rates_of
from leverwright.linkage.sensitivity import shifted
from leverwright.ride.cycle import Travels
from leverwright.ride.sprung import SprungAssembly

__all__ = ["BENT", "CLOSE_TO_DEAD_CENTRE", "Inputs", "bend_of", "looks_bent"]

BENT = 0.25  # of the ±: one way the answer moves by a quarter more than it says, and the other way by less
CLOSE_TO_DEAD_CENTRE = "its ± is not to be trusted here: close to dead centre it is lopsided"
_FAR = 12.0  # standard deviations to dead centre: from there on 1/sin bends less than BENT at two
_TWO = 2.0
_LONGEST = 0.05  # m of one step: longer ones jump to another branch
_CLOSE_ENOUGH = 1e-8  # m: bends are told to a percent
_MOST_STEPS = 12  # of Newton; from two standard deviations away five do, or it does not close at all


@dataclass(frozen=True, slots=True)
class Inputs:
    """Measured numbers K of an assembly, coordinates (point, axis) first, then bars, then springs and loads.

    sigma   m, one standard deviation of the coordinates and bars
    mix     (K, K) independent causes of each, None where each is its own
    ratio   (K, S) what one standard deviation of each does to each heave ratio where the vehicle then stands
    height  (K, D) m, what it does to where the vehicle stands
    """

    coordinates: list[tuple[int, int]]
    bars: list[int]
    sigma: Array
    mix: Array | None
    ratio: Array
    height: Array


def looks_bent(value: dict[str, Array], sigma: dict[str, Array]) -> bool:
    """Whether dead centre is so few standard deviations away that it is worth looking."""
    for name in ("dead_centre_angle", "dead_centre_bump", "dead_centre_droop"):
        near = np.abs(value[name]) < _FAR * sigma[name]
        if bool(np.any(near)):
            return True
    return False


def bend_of(sprung: SprungAssembly, travels: Travels, posed: Posed, inputs: Inputs) -> Array:
    """By what share of itself the ± of each heave ratio is wrong at two standard deviations, (S,).

    Infinite where the linkage cannot be there at all.
    """
    rows = inputs.ratio
    count, springs = len(inputs.sigma), rows.shape[1]
    mixed = rows if inputs.mix is None else inputs.mix.T @ rows
    size = np.sqrt(np.einsum("ks,ks->s", mixed, mixed))
    live = [s for s in range(springs) if size[s] > 0.0 and np.isfinite(size[s])]
    out = np.zeros(springs)
    if not live:
        return out
    causes = mixed[:, live] / size[live]
    moved = causes if inputs.mix is None else inputs.mix @ causes
    shift = _TWO * (moved[:count] * inputs.sigma[:, None]).T
    rise = _TWO * (moved.T @ inputs.height)
    there = _moved(sprung, inputs, np.concatenate([shift, -shift]))
    ratio = _ratios_at(sprung, travels, (posed, np.concatenate([rise, -rise])), there)
    here = _alike(posed.rates.ds_dz, travels)[0]
    for k, s in enumerate(live):
        up, down = ratio[k, s], ratio[k + len(live), s]
        bend = 0.5 * abs(up + down - 2.0 * here[s]) / (_TWO * size[s])
        out[s] = bend if np.isfinite(bend) else np.inf
    return out


def _alike(ds_dz: Array, travels: Travels) -> Array:
    """Ratio with all wheels alike, (P, S)."""
    return ds_dz.sum(axis=2) if travels.driving.each else ds_dz[:, :, 0]


def _moved(sprung: SprungAssembly, inputs: Inputs, shift: Array) -> Basis:
    """The linkage with every input moved by a row (B, K) m."""
    layout, geometry = sprung.assembly.layout, sprung.assembly.geometry
    count = len(shift)
    points = np.repeat(geometry.points, count, axis=0)
    for k, (point, axis) in enumerate(inputs.coordinates):
        points[:, point, axis] += shift[:, k]
    length = measured_bar_length(layout.mechanism, points)
    for column, bar in enumerate(layout.mechanism.bars):
        if bar.length is not None:
            length[:, column] = geometry.bar_length[0, column]
    for k, bar_index in enumerate(inputs.bars):
        length[:, bar_index] += shift[:, len(inputs.coordinates) + k]
    return basis_of(layout, Geometry(points, length, np.repeat(geometry.hold, count, axis=0)))


def _ratios_at(sprung: SprungAssembly, travels: Travels, where: tuple[Posed, Array], moved: Basis) -> Array:
    """Ratio (B, S) of the moved linkages, the wheels higher by a row (B, D) m each; NaN where one cannot be there."""
    (posed, rise), drive, track = where, travels.driving.drive, travels.track
    here = evaluate(track.basis, posed.state)
    heights = np.einsum("rw,pw->pr", drive.weights, here.wheel_height)
    heights = heights + (rise if travels.driving.each else rise * drive.follow)
    there = shifted(track.basis, posed.state, drive, moved)
    state, pose = there.state, there.pose
    for _ in range(_MOST_STEPS):
        driven = np.einsum("rw,pw->pr", drive.weights, pose.wheel_height) - heights
        miss = np.concatenate([pose.residual, driven], axis=1)
        miss = np.where(np.isfinite(miss), miss, 0.0)
        if float(np.abs(miss).max(initial=0.0)) < CLOSED:
            break
        wheels = np.einsum("rw,pwq->prq", drive.weights, pose.wheel_dq)
        rows = np.nan_to_num(np.concatenate([pose.residual_dq, wheels], axis=1))
        step = -np.einsum("pqe,pe->pq", np.linalg.pinv(rows, rcond=1e-11), miss)
        state = advance(moved, state, np.clip(step, -_LONGEST, _LONGEST))
        pose = evaluate(moved, state)
    driven = np.einsum("rw,pw->pr", drive.weights, pose.wheel_height) - heights
    miss = np.abs(np.concatenate([pose.residual, driven], axis=1)).max(axis=1, initial=0.0)
    rates = rates_of(Problem(moved, drive, track.exact), state, pose, sprung.assembly.turn_sign)
    ratio = _alike(rates.ds_dz, travels)
    return np.where((miss < _CLOSE_ENOUGH)[:, None], ratio, np.nan)
