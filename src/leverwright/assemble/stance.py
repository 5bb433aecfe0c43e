"""Where a load set's centre of gravity is, how high, and at what it tips: from masses, scale and tilting."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from leverwright.assemble.footing import Footing
from leverwright.assemble.parts import parts_of
from leverwright.assemble.weights import Weights, usual_set
from leverwright.geometry import Array
from leverwright.measure.scale import Weighed, balance_point, cross_weight
from leverwright.measure.tilt import TiltErrors, TiltReads, height_by_tilt, lift_for
from leverwright.project import Project, Wheel
from leverwright.quantity import Quantity
from leverwright.ride.chassis_balance import Part, along_ground
from leverwright.ride.coupling import CouplingShare, coupling_share
from leverwright.ride.lean import Lean, RollAxle, lean_of, leaning_limit, roll_axles
from leverwright.ride.standing import Standing
from leverwright.ride.tipping import Stance, pitch_limit, side_limit

__all__ = [
    "BRAKING",
    "DRIVING",
    "RAISED",
    "Loading",
    "Tilted",
    "Tipping",
    "centre_spread",
    "coupling_of",
    "cross_of",
    "limit_ends",
    "loading_of",
    "tilted_of",
    "tipping_of",
]

BRAKING, DRIVING = 0.3, 0.2  # of gravity, while turning (CP): what light vehicles do on dry ground
RAISED = 0.03  # of a wheel's load that raising it may shift before the diagonals are not believed (CP)
_AXLE = 0.05  # m along the vehicle; wheels nearer than this are one axle
_STEP = 1e-6  # m, for slopes
_SIGMAS = 2.0  # to either side: where a limit lies at 95 %
_UNDER = (
    "by the lifted end its centre of gravity would lie under the ground: the two readings may be exchanged"
)


@dataclass(frozen=True, slots=True)
class Tilted:
    """Height [m] of the centre of gravity by lifting an end, its standard deviation, and what a better lift gives.

    by_wheels  kg that the wheels at the end that stayed down carry by the other readings; NaN where one is missing
    """

    height: float
    error: float
    reads: TiltReads
    better_lift: float
    better_error: float
    blocked: bool | None
    by_wheels: float


@dataclass(frozen=True, slots=True)
class Tipping:
    """Static limits, of gravity; NaN and a reason where lean cannot be told.

    rigid    sideways over the nearer side, with its standard deviation (None where nothing states an error)
    leaning  the same when the springs let it lean, with its own; both hold the ± of the centre of gravity alone
    braking, driving   the rigid limit while braking at BRAKING or driving at DRIVING
    over_front, over_rear   braking or climbing at which it goes over
    """

    stance: Stance
    mass: float
    height_by: str  # "tilt" or "masses"
    rigid: float
    error: float | None
    leaning: float
    leaning_error: float | None
    lean: Lean | None
    no_lean: str | None
    braking: float
    driving: float
    over_front: float
    over_rear: float

    @property
    def least(self) -> float:
        """Sideways limit with lean where that is known."""
        return self.rigid if math.isnan(self.leaning) else self.leaning

    @property
    def least_error(self) -> float | None:
        """Standard deviation of that limit; None where nothing states one."""
        return self.error if math.isnan(self.leaning) else self.leaning_error

    @property
    def ends(self) -> tuple[float, float]:
        """Where that limit lies at 95 %; the low end is the one to halve."""
        return limit_ends(self.least, self.least_error)

    @property
    def slope(self) -> float:
        """Side slope [rad] on which it tips standing still."""
        return math.atan(max(0.0, self.least))

    @property
    def slope_error(self) -> float | None:
        """Standard deviation [rad] of the slope; None where nothing states one."""
        return None if self.least_error is None else self.least_error / (1.0 + max(0.0, self.least) ** 2)

    @property
    def slope_ends(self) -> tuple[float, float]:
        """Where the slope [rad] lies at 95 %, by the ends of the limit."""
        low, high = self.ends
        return math.atan(low), math.atan(high)


def limit_ends(value: float, error: float | None) -> tuple[float, float]:
    """Where a tip limit lies at 95 %; both ends alike where nothing states an error. Never below 0."""
    spread = _SIGMAS * (error or 0.0)
    return max(0.0, value - spread), max(0.0, value + spread)


@dataclass(frozen=True, slots=True)
class Loading:
    """What is to be said of one load set as a whole; a sentence where it cannot be told.

    tilted    the height of its centre of gravity where an end was lifted under this load
    coupling  None for a vehicle without one
    """

    tilted: Tilted | None
    tipping: Tipping | str
    coupling: CouplingShare | str | None


def loading_of(
    vehicle: tuple[Project, Project], weights: Weights, footing: Footing, standings: Sequence[Standing]
) -> Loading:
    """Everything of one load set; `vehicle` as read and as measured, `standings` of the footing's assemblies."""
    file, project = vehicle
    tilted = tilted_of(file, project, weights)
    wheeled = [s for s, a in zip(standings, footing.assemblies, strict=True) if len(a.load)]
    tipping = tipping_of(project, (weights, tilted), parts_of(project, footing), wheeled)
    return Loading(tilted, tipping, coupling_of(file, project, weights))


def tilted_of(file: Project, project: Project, weights: Weights) -> Tilted | None:
    """The height that tilting gives this load set; None where it was not tilted so."""
    tilt = file.tilt
    if tilt is None or (tilt.load_set or usual_set(file)) != weights.name:
        return None
    ends = {"front": _end(project, 1.0), "rear": _end(project, -1.0)}
    up, down = (ends[tilt.lifted], ends["rear" if tilt.lifted == "front" else "front"])
    base = abs(_x(project, up) - _x(project, down))
    total, total_error = _total(weights, tilt.total, len(project.wheels))
    if not (base > 0.0 and math.isfinite(total)):
        return None
    reads = TiltReads(
        tilt.level.value, tilt.tilted.value, total, tilt.by.value, base, _radius(down), _radius(up)
    )
    each = None if file.scale is None else file.scale.error
    tape = file.tape_error or 0.0
    errors = TiltErrors(
        _error(tilt.level, each),
        _error(tilt.tilted, each),
        total_error,
        _error(tilt.by, tape),
        math.sqrt(2.0) * (file.error or 0.0),
        _error(down[0].radius, 0.0),
        _error(up[0].radius, 0.0),
    )
    try:
        height, error = height_by_tilt(reads, errors)
    except ValueError:
        return None
    loads = [weights.loads.get(wheel.name) for wheel in down]
    by_wheels = sum(math.nan if load is None else load.value for load in loads)
    return Tilted(height, error, reads, *lift_for(reads, errors), tilt.blocked, by_wheels)


def _error(quantity: Quantity, otherwise: float | None) -> float:
    return quantity.error if quantity.error is not None else otherwise or 0.0


def _end(project: Project, way: float) -> list[Wheel]:
    """The wheels of the foremost (+1) or rearmost (-1) axle."""
    along = {name: way * project.points[wheel.centre].at[0] for name, wheel in project.wheels.items()}
    most = max(along.values())
    return [project.wheels[name] for name, x in along.items() if most - x < _AXLE]


def _x(project: Project, wheels: Sequence[Wheel]) -> float:
    return sum(project.points[wheel.centre].at[0] for wheel in wheels) / len(wheels)


def _radius(wheels: Sequence[Wheel]) -> float:
    return sum(wheel.radius.value for wheel in wheels) / len(wheels)


def _total(weights: Weights, stated: Quantity | None, wheels: int) -> tuple[float, float]:
    if stated is not None:
        return stated.value, stated.error or 0.0
    if weights.burden is not None:
        return weights.burden.total, float(np.sqrt((weights.burden.mass_error**2).sum()))
    if len(weights.loads) < wheels:
        return math.nan, 0.0
    return sum(load.value for load in weights.loads.values()), _sum_error(weights)


def _sum_error(weights: Weights) -> float:
    together = {name for block in weights.blocks for _, name in block.inputs}
    variance = sum(float(block.covariance.sum()) for block in weights.blocks)
    alone = (load.error or 0.0 for name, load in weights.loads.items() if name not in together)
    return math.sqrt(max(0.0, variance + sum(error**2 for error in alone)))


def tipping_of(
    project: Project,
    load: tuple[Weights, Tilted | None],
    parts: Sequence[Part],
    standings: Sequence[Standing],
) -> Tipping | str:
    """Limits of one load set, or why they cannot be told. `standings` of `parts`, under this load."""
    if project.plane is not None:
        return "a flat drawing has no width to tip over"
    found = _poise(project, *load)
    if isinstance(found, str):
        return found
    stance, mass, spread, whence = found
    if len(stance.places) < 3:
        return "on fewer than three wheels it tips with what holds it: the vehicle that tows it, or a rider"
    axles = roll_axles(parts, standings)

    def leans(at: Stance) -> Lean | str:
        return _lean(project, (at, mass), parts, axles)

    def leaning(at: Stance) -> float:
        found = leans(at)
        return math.nan if isinstance(found, str) else leaning_limit(side_limit(at), mass, at.height, found)

    lean = leans(stance)
    return Tipping(
        stance,
        mass,
        whence,
        side_limit(stance),
        _limit_error(stance, spread, side_limit),
        leaning(stance),
        None if isinstance(lean, str) else _limit_error(stance, spread, leaning),
        None if isinstance(lean, str) else lean,
        lean if isinstance(lean, str) else None,
        side_limit(stance, -BRAKING),
        side_limit(stance, DRIVING),
        pitch_limit(stance),
        pitch_limit(stance, -1.0),
    )


def _poise(
    project: Project, weights: Weights, tilted: Tilted | None
) -> tuple[Stance, float, Array | None, str] | str:
    """Stance, mass, covariance (3, 3) of the centre's x, y, height, and what the height is from."""
    standing, burden = weights.standing, weights.burden
    if burden is not None and standing is not None and standing.because is None:
        along = along_ground(np.array([-standing.up[0], -standing.up[1], 0.0]) / standing.up[2])
        places = standing.contacts @ along.T
        centre = along @ standing.centre
        spread = centre_spread(weights)
        height = standing.over_ground(standing.centre)
        if tilted is None:
            return Stance(places, centre, height), burden.total, spread, "masses"
        if tilted.height <= 0.0:
            return _UNDER
        if spread is None:
            spread = np.zeros((3, 3))
        spread[2], spread[:, 2] = 0.0, 0.0
        spread[2, 2] = tilted.error**2
        return Stance(places, centre, tilted.height), burden.total, spread, "tilt"
    if burden is not None and standing is not None:
        return standing.because or "its standing cannot be told"
    if tilted is None:
        return (
            "nothing says how high its centre of gravity is: give the load set its masses with their places, or lift "
            "one end and weigh the other"
        )
    if tilted.height <= 0.0:
        return _UNDER
    names = list(project.wheels)
    if any(name not in weights.loads for name in names):
        return "not every wheel is weighed"
    covariance = covariance_of(weights, names)
    load = np.array([weights.loads[name].value for name in names])
    places = np.array([project.points[project.wheels[name].centre].at[:2] for name in names])
    centre, flat = balance_point(Weighed(load, covariance, math.nan, ()), places, project.error or 0.0)
    spread = np.zeros((3, 3))
    spread[:2, :2], spread[2, 2] = flat, tilted.error**2
    return Stance(places, centre, tilted.height), float(load.sum()), spread, "tilt"


def centre_spread(weights: Weights) -> Array | None:
    """Covariance (3, 3) m² of the masses' common centre; None where no mass states any ±."""
    burden = weights.burden
    assert burden is not None
    if not (burden.mass_error.any() or burden.at_error.any()):
        return None
    by_mass = (burden.at - burden.centre) / burden.total * burden.mass_error[:, None]
    by_place = (burden.mass / burden.total)[:, None] * burden.at_error
    out: Array = by_mass.T @ by_mass + np.diag((by_place**2).sum(axis=0))
    return out


def _limit_error(stance: Stance, spread: Array | None, limit: Callable[[Stance], float]) -> float | None:
    """Standard deviation of a limit by that of the centre of gravity; what springs and masses err by is not in it."""
    if spread is None:
        return None
    slope = np.zeros(3)
    for k in range(3):
        step = np.zeros(3)
        step[k] = _STEP
        above, below = (
            limit(Stance(stance.places, stance.centre + way * step[:2], stance.height + way * step[2]))
            for way in (1.0, -1.0)
        )
        slope[k] = (above - below) / (2.0 * _STEP)
    return math.sqrt(float(slope @ spread @ slope))


def _lean(
    project: Project, whole: tuple[Stance, float], parts: Sequence[Part], axles: list[RollAxle] | str
) -> Lean | str:
    stance, mass = whole
    if isinstance(axles, str):
        return axles
    moving = [name for part in parts if not part.rigid for name in part.names]
    unsprung = {name: project.wheels[name].unsprung for name in moving}
    light = [name for name, each in unsprung.items() if each is None]
    if light:
        return f"unsprung is not stated for {' and '.join(light)}"
    weight = np.array([each.value for each in unsprung.values() if each is not None])
    high = np.array([project.wheels[name].radius.value for name in moving])
    along = np.array([project.points[project.wheels[name].centre].at[0] for name in moving])
    sprung = mass - float(weight.sum())
    height = (mass * stance.height - float(weight @ high)) / sprung
    x = (mass * float(stance.centre[0]) - float(weight @ along)) / sprung
    return lean_of(axles, sprung, np.array([x, height]))


def cross_of(project: Project, weights: Weights) -> tuple[float, float | None] | str:
    """Share of the weight on left front and right rear, with its deviation, or why it cannot be told."""
    ends = _end(project, 1.0), _end(project, -1.0)
    # Front, then rear; left before right.
    names = [sorted(end, key=lambda wheel: -project.points[wheel.centre].at[1]) for end in ends]
    if [len(end) for end in names] != [2, 2] or len(project.wheels) != 4 or project.plane is not None:
        return "cross weight is of four wheels, two in front and two behind"
    if weights.weighed is not None and any(not one.share <= RAISED for one in weights.weighed.raised):
        return "a wheel stood higher than the others while it was weighed (see wheel-raised)"
    order = [wheel.name for end in names for wheel in end]
    if any(name not in weights.loads for name in order):
        return "not every wheel is weighed"
    load = np.array([weights.loads[name].value for name in order])
    value, error = cross_weight(Weighed(load, covariance_of(weights, order), math.nan, ()), (0, 3))
    return value, error or None


def covariance_of(weights: Weights, names: Sequence[str]) -> Array:
    """Covariance (W, W) kg² of these wheels' loads; one that states no error counts as exact."""
    out = np.diag([(weights.loads[name].error or 0.0) ** 2 for name in names])
    for block in weights.blocks:
        inside = [k for k, (_, name) in enumerate(block.inputs) if name in names]
        rows = [list(names).index(block.inputs[k][1]) for k in inside]
        out[np.ix_(rows, rows)] = block.covariance[np.ix_(inside, inside)]
    return out


def coupling_of(file: Project, project: Project, weights: Weights) -> CouplingShare | str | None:
    """What comes on the coupling under this load; None for a vehicle without one."""
    if file.coupling is None:
        return None
    if weights.burden is None:
        return (
            "the load set states no masses: the scale under the wheels does not say what the coupling carries"
        )
    standing = weights.standing
    if standing is None or standing.because is not None:
        return (
            "it cannot be told how it stands" if standing is None else standing.because or "it does not stand"
        )
    carried = np.array([weights.loads[n].value if n in weights.loads else np.nan for n in standing.names])
    x = np.array([project.points[project.wheels[n].centre].at[0] for n in standing.names])
    share = np.nan_to_num(carried) / max(float(np.nansum(carried)), 1e-9)
    axle = float(share @ x)
    centre = float(weights.burden.centre[0])
    return coupling_share(weights.burden.total, centre, axle, file.coupling.at[0], standing.coupling)
