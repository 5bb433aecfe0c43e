"""What the scale and the load sets say, in sentences: each wheel, whether it closes, how it stands, where it tips."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from leverwright.assemble.stance import Tilted, Tipping
from leverwright.assemble.weights import Weights
from leverwright.measure.scale import Closure, cross_weight
from leverwright.quantity import Kind, Quantity, say, say_between
from leverwright.ride import STANDARD_GRAVITY
from leverwright.ride.coupling import CouplingShare
from leverwright.ride.tipping import speed_in_bend
from leverwright.study import Study
from leverwright.wire.cards import Verdict

__all__ = ["ride_lines", "weigh_lines"]

_BEND: Final = 6.0  # m, a tight bend of a yard or a path
_GRIP: Final = 0.8  # of gravity that dry hard ground holds sideways (CP)
_LEVEL: Final = math.radians(0.05)  # a lean of less is none
_SIGMAS: Final = 2.0
_USUAL_SHARE: Final = (0.08, 0.15)  # of a trailer's weight on its coupling (CP)
_Said = Iterable[tuple[Verdict, str]]


def weigh_lines(study: Study) -> _Said:
    """Tyres by scale and ruler, each weighed wheel, then what checks the scale, then the height by tilting."""
    for name, tyre in study.measured.tyres.items():
        if tyre.twin_of is None:
            yield "said", f"The tyre of {name} gives {_said(tyre.rate)}."
    yield from _weighed(study)


def _weighed(study: Study) -> _Said:
    weights = study.measured.weights
    weighed = None if weights is None else weights.weighed
    if weights is None or weighed is None:
        return
    missing = [name for name in study.file.wheels if name not in weighed.wheels]
    for wheel in weighed.wheels:
        yield "said", f"{wheel} carries {_said(weights.loads[wheel])}."
    if missing:
        yield "watch", f"Still to weigh: {', '.join(missing)}."
    else:
        yield "said", f"All together {say(weighed.result.total, 'mass')}.{_cross(weights)}"
    for closure in weighed.result.closures:
        if closure.closes:
            yield "good", _closes(closure, weighed.wheels)
    if not weighed.result.closures:
        yield (
            "watch",
            "Nothing checks the scale yet: read a wheel again, or put a known mass on it near a wheel's load.",
        )
    tilted = None if study.loading is None else study.loading.tilted
    if tilted is not None:
        yield "said", _tilted(tilted)


def _cross(weights: Weights) -> str:
    """Cross weight of four wheels, whose names say where they are."""
    assert weights.weighed is not None
    names = weights.weighed.wheels
    diagonal = [k for k, name in enumerate(names) if name in ("front-left", "rear-right")]
    if len(names) != 4 or len(diagonal) != 2:
        return ""
    share, error = cross_weight(weights.weighed.result, (diagonal[0], diagonal[1]))
    spread = _SIGMAS * error if math.isfinite(error) else 0.0
    between = (
        f"between {100 * (share - spread):.1f} and {100 * (share + spread):.1f}"
        if spread
        else f"{100 * share:.1f}"
    )
    return f" Left front and right rear carry {between} % of it; 50 is even."


def _closes(closure: Closure, wheels: tuple[str, ...]) -> str:
    off = say(abs(closure.off), "mass")
    if closure.kind == "known":
        return f"The scale reads a known {say(closure.of, 'mass')} right within {off}."
    if closure.kind == "repeats":
        return f"Readings of {wheels[closure.wheel]} agree within {off}."
    return f"The wheels add up to the whole vehicle within {off}: the scale closes."


def _tilted(tilted: Tilted) -> str:
    height = say(tilted.height, "length", error=tilted.error)
    return f"By tilting, the centre of gravity is {height} above the ground."


def ride_lines(study: Study) -> _Said:
    """One load set as it stands; `study` is the vehicle under it."""
    weights = study.measured.weights
    if weights is None:
        return
    if weights.loads:
        each = ", ".join(f"{wheel} {_said(load)}" for wheel, load in weights.loads.items())
        yield (
            "said",
            f"Carries {say(sum(load.value for load in weights.loads.values()), 'mass')} on its wheels: {each}.",
        )
    if study.chassis is not None and study.chassis.because is not None:
        yield "said", f"How it stands cannot be told: {study.chassis.because}."
    elif study.chassis is not None:
        yield from _lean(study)
    yield from _sags(study)
    loading = study.loading
    if loading is None:
        return
    if isinstance(loading.coupling, CouplingShare):
        yield _coupled(loading.coupling)
    elif isinstance(loading.coupling, str):
        yield "watch", f"What the coupling carries cannot be told: {loading.coupling}."
    if isinstance(loading.tipping, Tipping):
        yield _tips(loading.tipping)
    elif loading.coupling is None:
        yield "said", f"Where it tips cannot be told: {loading.tipping}."


def _lean(study: Study) -> _Said:
    chassis = study.chassis
    assert chassis is not None
    words = []
    if abs(chassis.pitch) > _LEVEL:
        words.append(
            f"nose {'down' if chassis.pitch > 0 else 'up'} by {math.degrees(abs(chassis.pitch)):.1f} deg"
        )
    if abs(chassis.roll) > _LEVEL:
        words.append(
            f"{'left' if chassis.roll > 0 else 'right'} side up by {math.degrees(abs(chassis.roll)):.1f} deg"
        )
    if chassis.lifted:
        yield "stop", f"{', '.join(chassis.lifted)} leaves the ground."
    if words:
        yield "said", f"Against how it was measured it stands {' and '.join(words)}."


def _sags(study: Study) -> _Said:
    """How far each sprung wheel sits down, those that sit alike said once."""
    found: dict[str, list[str]] = {}
    for wheel, answers in study.answers.items():
        sag, share = answers.of["sag"], answers.of["sag_percent"]
        if (
            sag.value is None
            or share.value is None
            or not (math.isfinite(sag.value) and math.isfinite(share.value))
        ):
            continue
        far, part = _worded(sag.value, sag.error, "length"), _worded(share.value, share.error, "percent")
        words = f"{far}, {part} of its travel"
        found.setdefault(words, []).append(wheel)
    for words, wheels in found.items():
        yield "said", f"{' and '.join(wheels)} {'sit' if len(wheels) > 1 else 'sits'} down {words}."


def _coupled(share: CouplingShare) -> tuple[Verdict, str]:
    low, high = _USUAL_SHARE
    fine = low <= share.pitched_share <= high
    words = (
        f"The coupling carries {say(share.pitched, 'mass')} as the trailer stands, {100 * share.pitched_share:.1f} % "
        f"of {say(share.total, 'mass')}; level it would be {say(share.level, 'mass')}, {100 * share.level_share:.1f} %."
    )
    if fine:
        words += " 10 to 15 % is usual."
    else:
        words += f" Under {100 * low:.0f} % it may sway, over {100 * high:.0f} % it lifts what tows it."
    return "good" if fine else "fix", words


def _tips(tipping: Tipping) -> tuple[Verdict, str]:
    low, high = tipping.ends
    slow, fast = (3.6 * speed_in_bend(end, _BEND, STANDARD_GRAVITY) for end in (low, high))
    if low == high:
        share, slope, speed = f"{low:.2f}", f"{math.degrees(tipping.slope):.0f} deg", f"{slow:.1f}"
    else:
        share, slope = say_between(low, high, "ratio"), say_between(*tipping.slope_ends, "angle")
        speed = f"between {slow:.1f} and {fast:.1f}"
    words = (
        f"Tips at {share} g sideways: a side slope of {slope}, or {speed} km/h in a bend of {_BEND:g} m. "
        f"{'Half of it' if low == high else 'Half of the lower figures'} is the most to use; no margin here is a "
        "permission."
    )
    return "watch" if low < _GRIP else "said", words


def _said(quantity: Quantity) -> str:
    return say(quantity.value, quantity.kind, error=quantity.error)


def _worded(value: float, error: float | None, kind: Kind) -> str:
    return say(value, kind, error=error if error is not None and math.isfinite(error) else None)
