"""From the ± of places, lengths, springs and loads to the ± of every figure (one standard deviation each).

First-order propagation: JCGM 100:2008 (GUM), 5.1.2 for independent inputs, 5.2.2 for what errs together. Friction is a
rectangular band about the standing position (GUM 4.3.7): half-width over the square root of three.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import product
from typing import Literal

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import LineLimit, Posed, Stop, fold, pose_at, posed_from
from leverwright.linkage.closing import Problem
from leverwright.linkage.rates import rates_of, spring_lengths
from leverwright.linkage.sensitivity import STEP, Shifted, places_of, shift_geometry, shifted, shifted_end
from leverwright.linkage.transmission import driven_ends, transmission_angle
from leverwright.ride.cycle import Cycle, Travels
from leverwright.ride.figures import FIGURES, Figures, rate_figures
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.ride.sprung import SprungAssembly, spring_state
from leverwright.ride.standing import Standing
from leverwright.ride.trust import Inputs, bend_of, looks_bent
from leverwright.springs import Law, law_friction

__all__ = ["Errors", "LawSpread", "Linked", "Spread", "Stages", "errors_of"]

# m. Limits that are reached within this of one another are reached together: an end of travel is found to 1e-8 m, and
# no two shocks that a builder set apart come so near.
_TOGETHER = 1e-6
_SLOPE_STEP = 1e-5  # m of wheel travel to either side, for the change of rates over travel
LAW_SHARE = 1e-3  # of a standard deviation that a law's number is moved by, each way


@dataclass(frozen=True, slots=True)
class LawSpread:
    """One number of a law moved up and down by LAW_SHARE of its standard deviation, for all springs that have it.

    limit_shift  why -> m that the limit of that kind moves for one standard deviation
    """

    up: dict[int, Law]
    down: dict[int, Law]
    limit_shift: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Linked:
    """Inputs K of one kind that err together, with their correlation (K, K).

    inputs  (point, axis), (number of a law, 0) by its place in `Spread.laws`, or (wheel of the assembly, 0)
    """

    kind: Literal["point", "law", "load"]
    inputs: tuple[tuple[int, int], ...]
    correlation: Array


@dataclass(frozen=True, slots=True)
class Spread:
    """Standard deviations: points (N, 3) m, NaN where nothing is stated; bars (L,) m of stated lengths; (W,) each.

    linked  which of them err together; all others are independent
    """

    points: Array
    bars: Array
    laws: tuple[LawSpread, ...]
    load: Array
    unsprung: Array
    tyre: Array
    linked: tuple[Linked, ...] = ()


@dataclass(frozen=True, slots=True)
class Errors:
    """One standard deviation of each figure, shapes as in Figures; None where a place states no error.

    rate_rows  (K, D, D) N/m: what one standard deviation of each independent cause does to the rate matrix
    places     (point, axis) of the first inputs, with `sigma` m of each
    laws       which inputs are numbers of springs, that another assembly may have in common
    rows       name -> (K, W) what one standard deviation of each input does to each figure, by itself
    ratio_rows (K, S, W) the same of each ratio; heave_rows (K, S) with all wheels alike
    mix        (K, K) causes of each input: row k is how far each of K independent causes moves input k, in its
               standard deviations; None where every input is a cause of its own
    bend       (S,) by what share of itself the ± of the heave ratio is wrong at twice its size; 0 away from dead centre
    """

    value: dict[str, Array]
    ratio: Array
    heave: Array
    rate_rows: Array
    places: tuple[tuple[int, int], ...]
    sigma: Array
    laws: slice
    rows: dict[str, Array]
    ratio_rows: Array
    heave_rows: Array
    mix: Array | None
    bend: Array

    def of_place(self, k: int) -> Array:
        """How far [m] each independent cause moves the coordinate `places[k]`, (K,)."""
        count = len(self.rate_rows)
        own: Array = np.eye(1, count, k)[0] if self.mix is None else self.mix[k]
        moved: Array = own * float(self.sigma[k])
        return moved


@dataclass(frozen=True, slots=True)
class _Moves:
    """What one standard deviation of each input K does at fixed wheel heights."""

    length: Array  # (K, S)
    ratio: Array  # (K, S, D)
    slope: Array  # (K, S, D, D)
    angle: Array  # (K, A)
    push: Array  # (K, S) of the laws' own numbers
    rate: Array  # (K, S)
    load: Array  # (K, D) N
    mass: Array  # (K, W) kg
    unsprung: Array  # (K, W) kg
    tyre: Array  # (K, W) N/m


@dataclass(frozen=True, slots=True)
class Stages:
    """What was computed of one assembly before its errors."""

    travels: Travels
    heave: Cycle
    standing: Standing
    figures: Figures


def errors_of(sprung: SprungAssembly, stages: Stages, spread: Spread) -> Errors | None:
    """Standard deviations of all figures, or None where a place of this assembly states no error."""
    travels, heave, figures = stages.travels, stages.heave, stages.figures
    posed, springs = figures.posed, figures.springs
    if posed is None or springs is None or heave.posed is None or travels.range is None:
        return None
    layout = sprung.assembly.layout
    flat = layout.mechanism.normal
    axes = [k for k in range(3) if flat is None or flat[k] == 0.0]
    places = places_of(layout)
    if np.isnan(spread.points[list(places)][:, axes]).any():
        return None
    work = _Work(sprung, travels, spread, [(p, a) for p in places for a in axes if spread.points[p, a] > 0.0])
    moves = work.moves(posed, law_friction_of(sprung, posed))
    droops = work.ends_at(travels.range.droop, heave.posed, 0)
    bumps = work.ends_at(travels.range.bump, heave.posed, -1)
    # A rate or a mass of 0 has no relative error: NaN there, which says that the spread cannot be told.
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        errors = _together([_figure_errors(work, moves, [*pair], stages) for pair in product(droops, bumps)])
    if not looks_bent(figures.value, errors.value):
        return errors
    height = errors.rows["standing_travel"]
    inputs = Inputs(
        work.coordinates,
        work.bars,
        work.sigma,
        work.mix,
        errors.heave_rows,
        height if travels.driving.each else height[:, :1],
    )
    return replace(errors, bend=bend_of(sprung, travels, posed, inputs))


def _together(found: list[Errors]) -> Errors:
    """One of several Errors is true, each as likely as another: the mean of their variances; rows of the first."""
    names = found[0].value
    mean = {name: np.sqrt(np.mean([errors.value[name] ** 2 for errors in found], axis=0)) for name in names}
    return replace(found[0], value=mean)


def law_friction_of(sprung: SprungAssembly, posed: Posed) -> Array:
    """Friction [N] of each spring at one pose, (S,)."""
    return np.array([float(law_friction(law, posed.length[:, s])[0]) for s, law in enumerate(sprung.laws)])


@dataclass(frozen=True, slots=True)
class _End:
    """One end of travel: its move (K,) m, and of the folded transmission angles there (K, A) rad."""

    travel: Array
    angle: Array


class _Work:
    """The inputs of one assembly and what each does; made, used and dropped inside `errors_of`."""

    def __init__(
        self, sprung: SprungAssembly, travels: Travels, spread: Spread, coordinates: list[tuple[int, int]]
    ) -> None:
        self.sprung, self.travels, self.spread = sprung, travels, spread
        self.layout = sprung.assembly.layout
        used = {pair.item for pair in self.layout.bars if pair.kind == "bar"}
        self.bars = [b for b in sorted(used) if spread.bars[b] > 0.0]
        self.coordinates = coordinates
        self.sigma = np.array(
            [spread.points[p, a] for p, a in coordinates] + [spread.bars[b] for b in self.bars]
        )
        self.moved = shift_geometry(self.layout, sprung.assembly.geometry, coordinates, self.bars)
        self.ends = driven_ends(self.layout)
        wheels, lines = len(sprung.load), len(sprung.laws)
        self.count = len(self.sigma) + len(spread.laws) + 3 * wheels + lines
        self.mix = self._mix()

    def _mix(self) -> Array | None:
        """Row k: how far each independent cause moves input k, in its standard deviations.

        The symmetric root of each correlation: it exists whatever the rank, and keeps kinds of inputs apart.
        """
        if not self.spread.linked:
            return None
        mix = np.eye(self.count)
        start = {"law": len(self.sigma), "load": len(self.sigma) + len(self.spread.laws)}
        place = {at: k for k, at in enumerate(self.coordinates)}
        for linked in self.spread.linked:
            if linked.kind == "point":
                found = [(k, place[at]) for k, at in enumerate(linked.inputs) if at in place]
            else:
                found = [(k, start[linked.kind] + at) for k, (at, _) in enumerate(linked.inputs)]
            mine, at = (np.array(each, dtype=int) for each in zip(*found, strict=True)) if found else ((), ())
            if len(mine):
                value, vector = np.linalg.eigh(linked.correlation[np.ix_(mine, mine)])
                mix[np.ix_(at, at)] = (vector * np.sqrt(np.maximum(value, 0.0))) @ vector.T
        return mix

    def central(self, values: Array) -> Array:
        half = len(self.sigma)
        out = np.zeros((self.count, *values.shape[1:]))
        scale = self.sigma.reshape(-1, *(1,) * (values.ndim - 1)) / (2.0 * STEP)
        out[:half] = (values[:half] - values[half:]) * scale
        return out

    def moves(self, posed: Posed, friction: Array) -> _Moves:
        """What each input does at the wheels' heights of `posed`."""
        drive, track = self.travels.driving.drive, self.travels.track
        there = shifted(track.basis, posed.state, drive, self.moved)
        rates = rates_of(
            Problem(there.basis, drive, track.exact), there.state, there.pose, self.sprung.assembly.turn_sign
        )
        size, _ = spring_lengths(there.basis, there.state, there.pose)
        angle = transmission_angle(there.basis, there.state, there.pose, self.ends)
        drivers = posed.rates.ds_dz.shape[2]
        wheels, lines = len(self.sprung.load), len(self.sprung.laws)
        push, rate = np.zeros((self.count, lines)), np.zeros((self.count, lines))
        self._laws(posed, push, rate)
        load, mass, unsprung, tyre = (np.zeros((self.count, n)) for n in (drivers, wheels, wheels, wheels))
        start = len(self.sigma) + len(self.spread.laws)
        shared = 0 if drivers == 1 else 1
        for w in range(wheels):
            load[start + w, w * shared] = np.nan_to_num(self.spread.load[w]) * STANDARD_GRAVITY
            mass[start + w, w] = np.nan_to_num(self.spread.load[w])
            load[start + wheels + w, w * shared] = -np.nan_to_num(self.spread.unsprung[w]) * STANDARD_GRAVITY
            mass[start + wheels + w, w] = -np.nan_to_num(self.spread.unsprung[w])
            unsprung[start + wheels + w, w] = np.nan_to_num(self.spread.unsprung[w])
            tyre[start + 2 * wheels + w, w] = np.nan_to_num(self.spread.tyre[w])
        for s in range(lines):
            load[start + 3 * wheels + s] = friction[s] * np.abs(posed.rates.ds_dz[0, s]) / np.sqrt(3.0)
        return _Moves(
            self.central(size),
            self.central(rates.ds_dz),
            self.central(rates.d2s_dz2),
            self.central(angle),
            push,
            rate,
            load,
            mass,
            unsprung,
            tyre,
        )

    def _laws(self, posed: Posed, push: Array, rate: Array) -> None:
        for k, law in enumerate(self.spread.laws):
            sides = []
            for laws in (law.up, law.down):
                changed = tuple(laws.get(s, old) for s, old in enumerate(self.sprung.laws))
                sides.append(spring_state(replace(self.sprung, laws=changed), posed))
            row = len(self.sigma) + k
            push[row] = (sides[0].push[0] - sides[1].push[0]) / (2.0 * LAW_SHARE)
            rate[row] = (sides[0].rate[0] - sides[1].rate[0]) / (2.0 * LAW_SHARE)

    def fold_end(self, node_at: int) -> Array:
        """Move (K,) m of an end of the linkage itself."""
        node = self.travels.track.nodes[node_at]
        out = np.zeros(self.count)
        slope = shifted_end(
            self.travels.track.basis, node.state, self.travels.driving.drive, node.along, self.moved
        )
        out[: len(self.sigma)] = slope * self.sigma
        return out

    def ends_at(self, stop: Stop, sweep: Posed, at: int) -> list[_End]:
        """Move of an end of travel and of the transmission angles there.

        More than one where several limits are reached together, as the two shocks of a mirrored axle are: which of
        them comes first on the real thing is open, each as likely as another.
        """
        drive, track = self.travels.driving.drive, self.travels.track
        there = shifted(track.basis, sweep.state[at : at + 1 or None], drive, self.moved)
        angle = self.central(transmission_angle(there.basis, there.state, there.pose, self.ends))
        if stop.why in ("dead centre", "link stretched"):
            return [_End(self.fold_end(0 if at == 0 else -1), angle)]
        if stop.why == "asked":
            return [_End(np.zeros(self.count), angle)]
        first = next(m for m in self.sprung.limits if m.name == stop.by and m.why == stop.why)
        others = [m for m in self.sprung.limits if m is not first and self._reached(m, sweep, at)]
        return [_End(self._limit_end(m, sweep, at, there), angle) for m in (first, *others)]

    @staticmethod
    def _reached(limit: LineLimit, sweep: Posed, at: int) -> bool:
        return abs(float(sweep.length[at, limit.line]) - limit.length) < _TOGETHER

    def _limit_end(self, limit: LineLimit, sweep: Posed, at: int, there: Shifted) -> Array:
        size, _ = spring_lengths(there.basis, there.state, there.pose)
        length = self.central(size)[:, limit.line]
        wanted = np.zeros(self.count)
        for k, law in enumerate(self.spread.laws):
            if limit.line in law.up:
                wanted[len(self.sigma) + k] = law.limit_shift.get(limit.why, 0.0)
        per_travel = -_along(sweep.rates.ds_dz[at, limit.line], self.travels)
        return (wanted - length) / per_travel


def _along(per_driver: Array, travels: Travels) -> float:
    """Derivative along the way from one per driver (D,)."""
    return float(per_driver @ travels.weights) if travels.driving.each else float(per_driver[0])


def _figure_errors(work: _Work, moves: _Moves, ends: list[_End], stages: Stages) -> Errors:
    standing, figures = stages.standing, stages.figures
    posed, springs = figures.posed, figures.springs
    assert posed is not None
    assert springs is not None
    travels, sprung = work.travels, work.sprung
    ds_dz, d2s = posed.rates.ds_dz[0], posed.rates.d2s_dz2[0]
    sign = np.concatenate([-np.ones(len(work.layout.lines)), sprung.assembly.turn_sign])
    push = moves.push + springs.rate[0] * sign * moves.length
    force = np.einsum("ks,sd->kd", push, ds_dz) + np.einsum("s,ksd->kd", springs.push[0], moves.ratio)
    if standing.posed is None:
        height = np.zeros(force.shape)
    elif standing.on == "springs":
        try:
            height = np.linalg.solve(springs.wheel_rate[0], (moves.load - force).T).T
        except np.linalg.LinAlgError:
            height = np.full(force.shape, np.nan)  # no stiffness at the wheel: any load moves it anywhere
    else:
        height = ends[0 if standing.on == "preload" else 1].travel[:, None] * np.ones(force.shape[1])
    ratio = moves.ratio + np.einsum("sdm,km->ksd", d2s, height)
    matrix = np.einsum("ks,sd,sm->kdm", moves.rate, ds_dz, ds_dz) + np.einsum("ks,sdm->kdm", push, d2s)
    one = np.einsum("s,ksd,sm->kdm", springs.rate[0], moves.ratio, ds_dz)
    matrix += one + one.transpose(0, 2, 1) + np.einsum("s,ksdm->kdm", springs.push[0], moves.slope)
    rate_dz, angle_dz = _over_travel(work, posed)
    matrix += np.einsum("dmn,kn->kdm", rate_dz, height)
    angle = moves.angle + np.einsum("an,kn->ka", angle_dz, height)
    value = _chain(work, moves, ends, stages, (height, matrix, angle))
    each = travels.driving.each
    heave_ratio = ratio.sum(axis=2) if each else ratio[:, :, 0]
    wide = ratio if each else np.where(np.isnan(figures.ratio), np.nan, ratio[:, :, :1])
    first = len(work.sigma)
    return Errors(
        {name: _total(_mixed(work, rows)) for name, rows in value.items()},
        _total(_mixed(work, wide)),
        _total(_mixed(work, heave_ratio)),
        _mixed(work, matrix),
        tuple(work.coordinates),
        work.sigma,
        slice(first, first + len(work.spread.laws)),
        value,
        wide,
        heave_ratio,
        work.mix,
        np.zeros(len(sprung.laws)),
    )


def _mixed(work: _Work, rows: Array) -> Array:
    """What each independent cause does, from what each input (K, …) does."""
    if work.mix is None:
        return rows
    whole: Array = np.einsum("kc,k...->c...", work.mix, rows)
    return whole


def _total(rows: Array) -> Array:
    out: Array = np.sqrt(np.einsum("k...,k...->...", rows, rows))
    return out


def _over_travel(work: _Work, posed: Posed) -> tuple[Array, Array]:
    """Change of the rate matrix (D, D, D) and of the angles (A, D) per metre of each driver's travel."""
    drivers = posed.rates.ds_dz.shape[2]
    steps = np.concatenate([np.eye(drivers), -np.eye(drivers)]) * _SLOPE_STEP
    if work.travels.driving.each:
        base = posed.pose.wheel_height[0]
        near = posed.state[np.zeros(2 * drivers, dtype=int)]
        both = posed_from(work.sprung.assembly, work.travels.track, work.travels.driving, base + steps, near)
    else:
        both = pose_at(
            work.sprung.assembly, work.travels.track, work.travels.driving, posed.travel[0] + steps[:, 0]
        )
    if both is None:
        return np.full((drivers,) * 3, np.nan), np.full((posed.transmission.shape[1], drivers), np.nan)
    springs = spring_state(work.sprung, both)
    rate = (springs.wheel_rate[:drivers] - springs.wheel_rate[drivers:]) / (2.0 * _SLOPE_STEP)
    angle = (both.transmission[:drivers] - both.transmission[drivers:]) / (2.0 * _SLOPE_STEP)
    return np.einsum("ndm->dmn", rate), np.einsum("na->an", angle)


def _chain(
    work: _Work, moves: _Moves, ends: list[_End], stages: Stages, whole: tuple[Array, Array, Array]
) -> dict[str, Array]:
    """Rows (K, W) of each figure: one standard deviation of each input."""
    height, matrix, angle = whole
    figures = stages.figures
    travels, sprung = work.travels, work.sprung
    wheels = len(sprung.load)
    heights = height if travels.driving.each else np.repeat(height, wheels, axis=1)
    droop, bump = (end.travel[:, None] * travels.weights for end in ends)
    value = {name: np.full((work.count, wheels), np.nan) for name in FIGURES}
    span = travels.range.bump.travel - travels.range.droop.travel if travels.range is not None else np.nan
    total = (ends[1].travel - ends[0].travel)[:, None]
    value["standing_travel"] = heights
    value["sag"], value["bump_left"] = heights - droop, bump - heights
    value["sag_percent"] = value["sag"] / span - figures.value["sag"] * total / span**2
    value["wheel_rate"], value["heave_rate"] = rate_figures(matrix, travels.driving.each, wheels)
    mass = np.where(np.isnan(sprung.sprung), np.nan, moves.mass)
    rate, share = figures.value["heave_rate"], value["heave_rate"] / figures.value["heave_rate"]
    plain = figures.value["ride_frequency_without_tyre"]
    value["ride_frequency_without_tyre"] = 0.5 * plain * (share - mass / sprung.sprung)
    series = rate * sprung.tyre / (rate + sprung.tyre)
    in_series = series * (share * sprung.tyre + moves.tyre / sprung.tyre * rate) / (rate + sprung.tyre)
    value["ride_frequency"] = (
        0.5 * figures.value["ride_frequency"] * (in_series / series - mass / sprung.sprung)
    )
    both = figures.value["wheel_rate"] + sprung.tyre
    hop = (value["wheel_rate"] + moves.tyre) / both - moves.unsprung / sprung.unsprung
    value["hop_frequency"] = 0.5 * figures.value["hop_frequency"] * hop
    at = heights @ travels.weights / float(travels.weights @ travels.weights)
    for name, stop, node, way in (
        ("dead_centre_bump", travels.track.bump, -1, 1.0),
        ("dead_centre_droop", travels.track.droop, 0, -1.0),
    ):
        if stop is not None and stop.why == "dead centre":
            value[name] = np.repeat(way * (work.fold_end(node) - at)[:, None], wheels, axis=1)
    _angle_rows(work, ends, stages, angle, value)
    return value


def _angle_rows(work: _Work, ends: list[_End], stages: Stages, angle: Array, value: dict[str, Array]) -> None:
    figures, heave = stages.figures, stages.heave
    wheels = len(work.sprung.load)
    if angle.shape[1] == 0 or figures.posed is None or heave.posed is None:
        return
    here = int(np.argmin(fold(figures.posed.transmission[0])))
    value["dead_centre_angle"] = np.repeat(angle[:, here, None], wheels, axis=1)
    folded = fold(heave.posed.transmission)
    pose, arm = (int(k) for k in np.unravel_index(int(np.argmin(folded)), folded.shape))
    last = len(folded) - 1
    stops = work.travels.range
    at_fold = stops is not None and (stops.droop if pose == 0 else stops.bump).why == "dead centre"
    if pose in (0, last) and at_fold:
        return  # in line with the lever by definition: no error widens it, and its slope there has no bound
    if pose in (0, last):
        end = ends[0 if pose == 0 else 1]
        inward = _SLOPE_STEP if pose == 0 else -_SLOPE_STEP
        at = heave.posed.travel[pose] + np.array([0.0, inward])
        near = pose_at(work.sprung.assembly, work.travels.track, work.travels.driving, at)
        slope = (near.transmission[1, arm] - near.transmission[0, arm]) / inward
        rows = end.angle[:, arm] + slope * end.travel
    else:
        drive = work.travels.driving.drive
        there = shifted(work.travels.track.basis, heave.posed.state[pose : pose + 1], drive, work.moved)
        rows = work.central(transmission_angle(there.basis, there.state, there.pose, work.ends))[:, arm]
    value["transmission_angle_least"] = np.repeat(rows[:, None], wheels, axis=1)
