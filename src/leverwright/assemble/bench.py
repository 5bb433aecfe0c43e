"""Project → shocks filled from bench readings, wire and rod: what was measured stands where the file states nothing."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from leverwright.assemble.blocks import Block
from leverwright.assemble.spring_fit import SpringFit, SpringSources, spring_fit
from leverwright.measure.bench import BenchFit, fit_bench
from leverwright.measure.bench_points import BenchReadings
from leverwright.measure.bench_unfit import Return, Unfit, unfit_by_readings, unfit_by_return
from leverwright.measure.plank import PLACE_ERROR
from leverwright.project import Project, Shock, Sketch
from leverwright.project.measuring import Bench, PileShock, Plank, Wire
from leverwright.quantity import Quantity
from leverwright.ride.frequency import STANDARD_GRAVITY
from leverwright.springs.wire_route import WireMeasured, WireRate, wire_rate

__all__ = ["Filled", "filled_springs", "spring_fits"]

_STATED = ("rate", "preload", "gas", "friction")
_BLOCK = ("rate", "preload", "gas")


@dataclass(frozen=True, slots=True)
class Filled:
    """The vehicle with its shocks filled.

    springs  what is known of each shock of the vehicle and of the pile, by name
    blocks   rate, preload and gas of each filled shock, which err together
    """

    project: Project
    springs: Mapping[str, SpringFit]
    blocks: tuple[Block, ...]


def filled_springs(project: Project) -> Filled:
    """Every shock of the vehicle with what its bench, wire and rod say, and the whole pile beside it."""
    springs = spring_fits(project)
    shocks = {name: _filled(shock, springs[name]) for name, shock in project.shocks.items()}
    blocks = [_block(name, springs[name]) for name in project.shocks]
    return Filled(
        replace(project, shocks=shocks, bench={}, pile={}),
        springs,
        tuple(block for block in blocks if block is not None),
    )


def spring_fits(project: Sketch) -> Mapping[str, SpringFit]:
    """What is known of each shock on the vehicle, then of those in the pile that are not on it by the same name."""
    found = {
        name: _fit(project, shock, project.pile.get(shock.pile or name))
        for name, shock in project.shocks.items()
    }
    return found | {
        name: _fit(project, pile, pile) for name, pile in project.pile.items() if name not in found
    }


def _fit(project: Sketch, shock: Shock | PileShock, pile: PileShock | None) -> SpringFit:
    owner = shock.pile if isinstance(shock, Shock) else None
    bench = project.bench.get(shock.name) or project.bench.get(owner or "")
    readings, fitted = (None, None) if bench is None else _benched(bench)
    stated = {key: value for key in _STATED if (value := getattr(shock, key)) is not None}
    rod = None if bench is None or bench.rod is None else _rod(bench)
    unfit = [*_looks(pile), *_tested(bench, readings, fitted)]
    wound = shock.wire is not None and _wound(shock.wire)
    sources = SpringSources(fitted, _by_wire(shock.wire) if shock.wire and wound else None, rod, stated)
    return spring_fit(shock.name, sources, tuple(sorted(unfit, key=lambda each: not each.reject)))


@lru_cache(
    maxsize=256
)  # the same readings are fitted once, however often a vehicle is changed while a hole is dragged
def _benched(bench: Bench) -> tuple[BenchReadings, BenchFit]:
    readings = _readings(bench)
    return readings, fit_bench(readings)


def _readings(bench: Bench) -> BenchReadings:
    """Forces on the shock: the plank's lever taken out, its ± kept as common to all."""
    gain, alone = _lever(bench.plank)
    own = [each.error for each in bench.going_in]
    force = bench.error if bench.error is not None else _whole([e for e in own if e is not None], len(own))
    marks = [each.error for each in bench.squash]
    mark = bench.mark_error
    if mark is None:
        mark = _whole([e for e in marks if e is not None], len(marks))
    out = [math.nan if each is None else each.value for each in bench.coming_out]
    return BenchReadings(
        np.array([each.value for each in bench.squash]),
        (np.array([each.value for each in bench.going_in]) - alone) * gain,
        (np.array(out) - alone) * gain,
        None if force is None else force * gain,
        mark,
        _lever_error(bench.plank),
        gain,
    )


def _whole(errors: list[float], count: int) -> float | None:
    """The largest of the readings' own ±, where each of them states one."""
    return max(errors) if errors and len(errors) == count else None


def _lever(plank: Plank | None) -> tuple[float, float]:
    """Force on the shock for one on the scale, and what the scale reads of the plank alone [N]."""
    if plank is None:
        return 1.0, 0.0
    return plank.scale.value / plank.load.value, plank.alone.value * STANDARD_GRAVITY


def _lever_error(plank: Plank | None) -> float:
    if plank is None:
        return 0.0
    shares = [
        (PLACE_ERROR if each.error is None else each.error) / each.value for each in (plank.load, plank.scale)
    ]
    return math.hypot(*shares)


def _rod(bench: Bench) -> tuple[float, float | None]:
    gain, alone = _lever(bench.plank)
    assert bench.rod is not None
    error = bench.rod.error if bench.rod.error is not None else bench.error
    read = (bench.rod.value - alone) * gain
    known = None if error is None else error * gain
    return read, known if known is None else math.hypot(known, read * _lever_error(bench.plank))


@lru_cache(maxsize=256)
def _by_wire(wire: Wire) -> WireRate:
    return wire_rate(WireMeasured(wire.diameter, wire.outside, wire.mean, wire.active, wire.modulus))


def _wound(wire: Wire) -> bool:
    """Whether such a coil can be wound; a file where it cannot is refused, a draft tells it as its fault."""
    across = wire.mean or wire.outside
    wires = 1.0 if wire.mean else 2.0
    return across is not None and across.value > wires * wire.diameter.value > 0.0 and wire.active.value > 0.0


def _looks(pile: PileShock | None) -> list[Unfit]:
    """What the eye saw: oil that runs, a rod bent or pitted."""
    if pile is None:
        return []
    found = [Unfit("oil", reject=True)] if pile.oil == "running" else []
    if pile.rod == "bent":
        found.append(Unfit("bent", reject=True))
    return [*found, Unfit("pitted", reject=True)] if pile.rod == "pitted" else found


def _tested(bench: Bench | None, readings: BenchReadings | None, fitted: BenchFit | None) -> list[Unfit]:
    if bench is None or readings is None or fitted is None:
        return []
    found = list(unfit_by_readings(readings, fitted))
    if bench.returned is not None:
        back = bench.returned
        slow = unfit_by_return(Return(back.by.value, back.of.value, back.seconds.value))
        found += [] if slow is None else [slow]
    return found


def _filled(shock: Shock, fit: SpringFit) -> Shock:
    """The shock with what was measured wherever the file states nothing; a stated table stands alone."""
    if shock.table is not None or not (shock.wire or fit.bench):
        return shock
    if fit.rows:
        return replace(
            shock,
            table=fit.rows,
            rate=None,
            preload=fit.preload,
            gas=fit.gas,
            coils_touch=_touch(shock, fit),
            wire=None,
            tilt=0.0 if fit.bench is None or math.isnan(fit.bench.slope_error) else fit.bench.slope_error,
        )
    return replace(
        shock,
        rate=shock.rate or fit.rate,
        preload=shock.preload or fit.preload,
        gas=shock.gas or fit.gas,
        friction=shock.friction or fit.friction,
        coils_touch=_touch(shock, fit),
        wire=None,
    )


def _touch(shock: Shock, fit: SpringFit) -> Quantity | None:
    """Length at which the coils were felt to touch, halfway between the two marks, unless a stop explains it."""
    touch = None if fit.bench is None else fit.bench.touch
    if shock.coils_touch is not None or touch is None:
        return shock.coils_touch
    first, last = (shock.length_open.value - squash for squash in touch)
    if shock.stop is not None and last <= shock.length_closed.value + shock.stop.touches.value:
        return None
    # Anywhere between the two is as likely: a rectangle (JCGM 100:2008, 4.3.7).
    return Quantity(0.5 * (first + last), (first - last) / math.sqrt(12.0), "length")


def _block(name: str, fit: SpringFit) -> Block | None:
    """Rate, preload and gas of a filled shock, as far as measuring filled them."""
    inputs = [key for key in _BLOCK if key in fit.filled]
    at = [_BLOCK.index(key) for key in inputs]
    covariance = fit.covariance[np.ix_(at, at)]
    if len(inputs) < 2 or not np.all(np.isfinite(covariance)):
        return None
    return Block(tuple(("shock", name, key) for key in inputs), covariance)
