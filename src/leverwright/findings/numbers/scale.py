"""Can the scale be believed: does it close, did a wheel stand high, was an end lifted far enough?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, Literal

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import both, length
from leverwright.quantity import say, say_between
from leverwright.study import Study

# What weighs is loaded by those alone who weighed.
if TYPE_CHECKING:
    from leverwright.assemble.scales import RaisedWheel, WeighedSet
    from leverwright.assemble.stance import Tilted
    from leverwright.assemble.weights import Weights
    from leverwright.measure.scale import Closure
    from leverwright.ride.chassis_balance import Burden

__all__ = ["scale_does_not_close", "tilt_too_small", "wheel_raised"]

_NUMBERS: Final = "Can I trust my numbers?"
_LIFT = 0.1  # of the wheelbase: lifts below say little (common practice of portable scales)
_HEIGHT = 0.04  # of the height: a wider deviation is worth a higher lift (CP)
_HIGH = 0.05  # m that two ways to the same height may differ beyond their own deviations (CP)
_SIGMAS = 2.0
_ONE_AXLE = 0.05  # m; wheels nearer to each other than this are one axle or one track
_KEPT = "Allowed: 1 kg, or 2 % of what is weighed if that is more."


def _sets(study: Study) -> Iterator[tuple[str, Study, Weights]]:
    """Each load set that has been on the scale, the usual one first, with a word for it."""
    usual = study.measured.weights
    if usual is not None:
        yield "", study, usual
    weighed = {one.load_set for one in study.file.weighed.values()}
    tilted = None if study.file.tilt is None else study.file.tilt.load_set
    for name, chosen in study.file.loads.items():
        if name != study.load_set and (name in weighed or name == tilted or chosen.scale):
            other = study.under(name)
            if other.measured.weights is not None:
                yield f" with '{name}' aboard", other, other.measured.weights


@finding("scale-does-not-close", question=_NUMBERS)
def scale_does_not_close(study: Study) -> tuple[Finding, ...]:
    """Do a known mass, repeats, the sum of the wheels, stated loads and the masses agree with each other?"""
    found: list[Finding] = []
    for where, _, weights in _sets(study):
        if weights.weighed is not None:
            open_ = [closure for closure in weights.weighed.result.closures if not closure.closes]
            found += [_open(study, closure, weights.weighed, where) for closure in open_]
        found += _against_stated(study, weights)
        found += _against_masses(study, weights, where)
    return tuple(found)


def _open(study: Study, closure: Closure, weighed: WeighedSet, where: str) -> Finding:
    off, of = both(study, abs(closure.off), "mass"), both(study, closure.of, "mass")
    wheels: tuple[str, ...] = ()
    if closure.kind == "known":
        way = "too much" if closure.off > 0 else "too little"
        said = (
            f"The scale reads {off} {way} of a known {of}{where}. One mass cannot tell a wrong zero from a wrong "
            "gain: set it to zero, weigh a second known mass near a wheel's load, or take another scale."
        )
    elif closure.kind == "repeats":
        wheels = (weighed.wheels[closure.wheel],)
        said = (
            f"Readings of {wheels[0]}{where} differ by {off} at {of}. Roll the vehicle on afresh, bounce it, let it "
            "settle, brakes off, and read three times more; a scale may have frozen an early reading."
        )
    else:
        way = "more" if closure.off > 0 else "less"
        said = (
            f"The wheels add up to {off} {way} than the whole vehicle's {of}{where}. Somebody moved, a wheel dragged, "
            "or one was read wrongly: weigh them again with blocks of the scale's height under the others."
        )
    return _finding("scale-does-not-close", "fix", said, abs(closure.off), wheels)


def _against_stated(study: Study, weights: Weights) -> Iterator[Finding]:
    """A wheel's own `load`, which counts, against what the scale says of the same wheel with the usual load."""
    from leverwright.measure.scale import CLOSES, CLOSES_SHARE

    for wheel, read in weights.beside.items():
        stated = weights.loads[wheel]
        off = stated.value - read.value
        own = math.hypot(stated.error or 0.0, read.error or 0.0)
        if abs(off) <= max(CLOSES, CLOSES_SHARE * read.value, _SIGMAS * own):
            continue
        entry = study.file.wheels[wheel].twin_of or wheel
        says = say(read.value, "mass", system=study.units, error=read.error)
        yield _finding(
            "scale-does-not-close",
            "fix",
            f"{wheel} is stated to carry {both(study, stated.value, 'mass')} and is weighed at {says}. The stated one "
            f"counts, the weighing does not. Take load out of [wheels.{entry}] and the weighing counts; or weigh again "
            "where the stated one is right.",
            abs(off),
            (wheel,),
        )


def _against_masses(study: Study, weights: Weights, where: str) -> Iterator[Finding]:
    """The masses of a set against what the scale or the wheels' own loads say of it."""
    from leverwright.measure.scale import CLOSES, CLOSES_SHARE

    standing, burden = weights.standing, weights.burden
    if burden is None or standing is None or "masses" in weights.source.values():
        return
    if len(weights.loads) < len(study.file.wheels) or (study.file.coupling and standing.because is not None):
        return
    coupling = 0.0 if math.isnan(standing.coupling) else standing.coupling
    read = sum(load.value for load in weights.loads.values()) + coupling
    off, allowed = burden.total - read, max(CLOSES, CLOSES_SHARE * read)
    if abs(off) > allowed:
        way = "more" if off > 0 else "less"
        yield _finding(
            "scale-does-not-close",
            "fix",
            f"The masses{where} add up to {both(study, burden.total, 'mass')}, {both(study, abs(off), 'mass')} {way} "
            f"than the scale says under the wheels. Something was forgotten or counted twice: fuel, tools, the box.",
            abs(off),
            (),
        )
    elif study.file.coupling is None:
        yield from _places_of_masses(study, (weights, burden), allowed, where)


def _places_of_masses(
    study: Study, load: tuple[Weights, Burden], allowed: float, where: str
) -> Iterator[Finding]:
    """Where the masses put the centre of gravity against where the scale does, in kg from one end or side to the other.

    Only what is beyond two standard deviations of the masses' own places is told.
    """
    weights, burden = load
    wheels = {name: study.project.points[study.project.wheels[name].centre].at for name in weights.loads}
    for axis, ends in enumerate((("front", "rear"), ("left", "right"))):
        if study.project.plane is not None and axis != {"xz": 0, "yz": 1}[study.project.plane]:
            continue
        along = [at[axis] for at in wheels.values()]
        base = max(along) - min(along)
        if base < _ONE_AXLE:
            continue
        read = sum(load.value for load in weights.loads.values())
        centre = sum(weights.loads[name].value * at[axis] for name, at in wheels.items()) / read
        off = (float(burden.centre[axis]) - centre) / base * burden.total
        own = float(((burden.mass * burden.at_error[:, axis]) ** 2).sum()) ** 0.5 / base
        if abs(off) > allowed + _SIGMAS * own:
            to = ends[0] if off > 0 else ends[1]
            yield _finding(
                "scale-does-not-close",
                "fix",
                f"The places of the masses{where} put {both(study, abs(off), 'mass')} more on the {to} wheels than the "
                "scale says. Measure where each mass lies again, its sign too: forward and left are +.",
                abs(off),
                (),
            )


@finding("wheel-raised", question=_NUMBERS)
def wheel_raised(study: Study) -> tuple[Finding, ...]:
    """Did a wheel stand higher than the others while it was weighed, so that the diagonals mean nothing?"""
    if study.measured.weights is None:
        return ()
    from leverwright.assemble.stance import RAISED

    return tuple(
        _raised(study, raised, where)
        for where, _, weights in _sets(study)
        for raised in (() if weights.weighed is None else weights.weighed.raised)
        if not raised.share <= RAISED  # also where neither springs nor tyres tell
    )


def _raised(study: Study, raised: RaisedWheel, where: str) -> Finding:
    high = length(study, abs(raised.height))
    way = "higher" if raised.height > 0 else "lower"
    start = f"{raised.wheel} stood {high} {way} than the others while it was weighed{where}"
    if math.isnan(raised.shift):
        return _finding(
            "wheel-raised",
            "fix",
            f"{start}, and neither springs nor tyres are stated that would say what that shifts. Put blocks of the "
            "scale's height under the others, within 2 mm, and weigh again; or state the tyres.",
            None,
            (raised.wheel,),
        )
    shift = both(study, abs(raised.shift), "mass")
    return _finding(
        "wheel-raised",
        "fix",
        f"{start}: that puts {shift} from one diagonal onto the other, {100 * raised.share:.0f} % of its load. Cross "
        "weight is not believable; what left and right, front and rear add up to is, if it stood so in all readings. "
        "If it stood so only while itself on the scale, its own reading is wrong by as much. Put blocks of the "
        "scale's height under the others, within 2 mm, and weigh again.",
        abs(raised.shift),
        (raised.wheel,),
    )


@finding("tilt-too-small", question=_NUMBERS)
def tilt_too_small(study: Study) -> tuple[Finding, ...]:
    """Was the end lifted far enough, springs blocked, to say how high the centre of gravity is?"""
    found: list[Finding] = []
    if study.file.tilt is None:
        return ()
    wheels = [study.project.points[wheel.centre].at[0] for wheel in study.project.wheels.values()]
    base, lift = max(wheels, default=0.0) - min(wheels, default=0.0), study.file.tilt.by.value
    if lift >= base > 0.0:
        said = (
            f"An end cannot be lifted {length(study, lift)} on a wheelbase of {length(study, base)}: the lifted end "
            "is left out. Check the unit and the decimal point of by."
        )
        return (_finding("tilt-too-small", "fix", said, None, ()),)
    for _, of, weights in _sets(study):
        tilted = None if of.loading is None else of.loading.tilted
        if tilted is not None:
            found += _tilt(study, tilted)
            found += _against_heights(study, tilted, weights)
    return tuple(found)


def _tilt(study: Study, tilted: Tilted) -> Iterator[Finding]:
    reads = tilted.reads
    yield from _against_wheels(study, tilted)
    if tilted.height <= 0.0:
        yield _finding(
            "tilt-too-small",
            "fix",
            f"By the lifted end the centre of gravity would lie {length(study, -tilted.height)} under the ground, "
            "which cannot be. The end that stays down gets heavier when the other is lifted: see that level and "
            "tilted are not exchanged, that lifted names the end that was lifted, and weigh again.",
            tilted.height,
            (),
        )
        return
    free = tilted.blocked is not True
    low = reads.lift < _LIFT * reads.wheelbase
    wide = tilted.error > _HEIGHT * tilted.height
    lighter = reads.tilted < reads.level
    if not (free or low or wide or lighter):
        return
    spread = _SIGMAS * tilted.error
    lies = (
        say_between(tilted.height - spread, tilted.height + spread, "length", system=study.units)
        if tilted.error > 0
        else length(study, tilted.height)
    )
    said = f"The centre of gravity lies {lies} over the ground, by a lift of {length(study, reads.lift)}"
    if low:
        said += f", less than a tenth of the wheelbase of {length(study, reads.wheelbase)}"
    said += "."
    if lighter:
        said += (
            " That is below the axles, for the end that stayed down got lighter: see that level and tilted are not "
            "exchanged."
        )
    if free:
        state = (
            "Nothing says that the springs were blocked"
            if tilted.blocked is None
            else "The springs were free"
        )
        said += f" {state}: then the body turns on them and the height is wrong. Block them with wood and lift again."
    if tilted.better_lift > reads.lift and tilted.error > 0:
        better = _SIGMAS * tilted.better_error
        ends = say_between(tilted.height - better, tilted.height + better, "length", system=study.units)
        said += f" Lift {length(study, tilted.better_lift)} instead and it is known {ends}."
    said += (
        " Chock what stays down, set what is lifted on a firm stand, nobody aboard: water cans in the seat."
    )
    yield _finding("tilt-too-small", "fix" if free or low or lighter else "watch", said, tilted.error, ())


def _against_heights(study: Study, tilted: Tilted, weights: Weights) -> Iterator[Finding]:
    """How high the masses put the centre of gravity against what the lifted end says."""
    standing, burden = weights.standing, weights.burden
    if burden is None or standing is None or standing.because is not None or tilted.height <= 0.0:
        return
    high = standing.over_ground(standing.centre)
    own = float(((burden.mass * burden.at_error[:, 2]) ** 2).sum()) ** 0.5 / burden.total
    off = high - tilted.height
    if abs(off) > _HIGH + _SIGMAS * math.hypot(own, tilted.error):
        way = "lower" if off < 0 else "higher"
        yield _finding(
            "scale-does-not-close",
            "fix",
            f"The masses put the centre of gravity {length(study, high)} over the ground, {length(study, abs(off))} "
            f"{way} than the lifted end says. Measure how high each mass lies again, and weigh the lifted end again.",
            abs(off),
            (),
        )


def _against_wheels(study: Study, tilted: Tilted) -> Iterator[Finding]:
    """The level reading is the sum of that end's wheels, which were weighed one by one."""
    from leverwright.measure.scale import CLOSES, CLOSES_SHARE

    level, wheels = tilted.reads.level, tilted.by_wheels
    if abs(level - wheels) > max(
        CLOSES, CLOSES_SHARE * wheels
    ):  # NaN where a wheel is not weighed: nothing to say
        yield _finding(
            "scale-does-not-close",
            "fix",
            f"Before it was lifted the end that stays down read {both(study, level, 'mass')}, and its wheels carry "
            f"{both(study, wheels, 'mass')} by the other readings. See which end was lifted, and weigh both wheels of "
            "the other one together.",
            abs(level - wheels),
            (),
        )


_WHY = {
    "scale-does-not-close": f"Readings of one thing against each other. {_KEPT}",
    "wheel-raised": "Raising one wheel of a frame shifts load along the diagonals only, as springs and tyres in "
    "series let it: rate x height / 4 for four alike. Allowed: 3 % of the wheel's load.",
    "tilt-too-small": "h = r + W's change x wheelbase / (weight x tan of the angle), sin of the angle = lift / "
    "wheelbase, for unequal wheels by the exact moments. Allowed: a tenth of the wheelbase, springs blocked, 4 % of "
    "the height.",
}


def _finding(
    name: str, severity: Literal["fix", "watch"], said: str, number: float | None, wheels: tuple[str, ...]
) -> Finding:
    return Finding(name, severity, _NUMBERS, said, _WHY[name], COMMON_PRACTICE, number, wheels=wheels)
