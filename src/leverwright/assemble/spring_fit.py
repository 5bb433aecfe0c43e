"""One shock from bench test, wire and what the file states: rate, preload, gas, friction, and what errs together."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from leverwright.geometry import Array
from leverwright.measure.bench import BenchFit
from leverwright.measure.bench_unfit import Unfit
from leverwright.quantity import Quantity
from leverwright.springs.wire_route import WireRate

__all__ = ["AGREE", "Routes", "SpringFit", "SpringSources", "combined", "spring_fit"]

_FLAT = 1e-9  # of the start force: rounding of equal readings is 1e-13, no scale shows less than 1e-4
AGREE = 2.0  # standard deviations of their difference within which two routes to one rate are believed (CP)
_RATE, _START, _GAS = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Routes:
    """Bench and wire side by side [N/m]: their difference, and its standard deviation; NaN where one states no ±."""

    bench: float
    wire: float
    difference: float
    error: float

    @property
    def agree(self) -> bool:
        """Within two standard deviations; where none is known within the wire's own, which is never so good."""
        return not abs(self.difference) > AGREE * self.error


@dataclass(frozen=True, slots=True)
class SpringSources:
    """What there is of one shock: its readings' fit, the wire, the rod alone [N], and what the file states by key."""

    bench: BenchFit | None = None
    wire: WireRate | None = None
    rod: tuple[float, float | None] | None = None
    stated: Mapping[str, Quantity] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class SpringFit:
    """Everything known of one shock, SI with ±; None where nothing tells it.

    start       N at fully open: preload and gas together
    gas_known   is it told apart from preload: by the rod alone, or by the file
    preload     m; where the gas is not known it is the start force by the rate, and holds the gas
    rows        m, N in, N out of a bent spring, gas left out where it is known; they replace rate and preload
    covariance  (3, 3) of rate, preload, gas
    routes      bench and wire, where there are both
    unfit       why not to use it, worst first
    filled      keys that measuring filled; the others the file states itself
    """

    name: str
    rate: Quantity | None
    start: Quantity | None
    preload: Quantity | None
    gas: Quantity | None
    gas_known: bool
    friction: Quantity | None
    rows: tuple[tuple[float, float, float], ...]
    covariance: Array
    bench: BenchFit | None
    wire: WireRate | None
    routes: Routes | None
    unfit: tuple[Unfit, ...]
    filled: frozenset[str]

    @property
    def rejected(self) -> bool:
        """Whether something says: do not use it."""
        return any(each.reject for each in self.unfit)


@dataclass(frozen=True, slots=True)
class _Numbers:
    """Rate, start force and gas with their covariance."""

    value: Array  # (3,)
    covariance: Array  # (3, 3)


def spring_fit(name: str, sources: SpringSources, unfit: tuple[Unfit, ...]) -> SpringFit:
    """All that the sources say of one shock; what the file states comes before what was measured."""
    bench = sources.bench if sources.bench is not None and _rises(sources.bench) else None
    routes = None if bench is None or sources.wire is None else _routes(bench, sources.wire)
    gas, gas_known = _gas(sources)
    numbers = _numbers(bench, sources, routes, gas)
    friction = sources.stated.get("friction") or _friction(sources.bench)
    if bench is not None and len(bench.rows) and "rate" not in sources.stated:
        return _bent(name, (bench, sources, unfit), numbers, gas_known)
    rate, start = _quantity(numbers, _RATE, "stiffness"), _quantity(numbers, _START, "force")
    preload, covariance = _preload(numbers)
    stated = sources.stated.get("preload")
    if stated is not None:
        preload = stated
        start = None if rate is None else Quantity(rate.value * stated.value + gas.value, None, "force")
    filled = {"rate": rate, "preload": preload, "gas": gas if gas_known else None, "friction": friction}
    return SpringFit(
        name,
        rate,
        start,
        preload,
        gas if gas_known else None,
        gas_known,
        friction,
        (),
        covariance,
        sources.bench,
        sources.wire,
        routes,
        unfit,
        frozenset(key for key, value in filled.items() if value is not None and key not in sources.stated),
    )


def _rises(bench: BenchFit) -> bool:
    """Whether the readings grow with the squash at all: of equal ones rounding makes a rate of either sign."""
    return bench.rate * bench.stroke > _FLAT * abs(bench.start)


def combined(bench: BenchFit, rate: Quantity) -> tuple[Array, Array]:
    """Rate, start force (2,) and covariance (2, 2) once another reading of the rate, with its ±, is taken up by weight.

    The line turns about the middle of its marks: the start force follows the rate. Least squares with one more reading.
    """
    value = np.array([bench.rate, bench.start])
    covariance = bench.covariance[:2, :2]
    if not np.all(np.isfinite(covariance)):
        return value, covariance
    gain = covariance[:, 0] / (covariance[0, 0] + (rate.error or 0.0) ** 2)
    return value + gain * (rate.value - bench.rate), covariance - np.outer(gain, covariance[0])


def _routes(bench: BenchFit, wire: WireRate) -> Routes:
    own = float(bench.error[0])
    error = math.hypot(own if math.isfinite(own) else 0.0, wire.rate.error or 0.0)
    return Routes(bench.rate, wire.rate.value, wire.rate.value - bench.rate, error)


def _gas(sources: SpringSources) -> tuple[Quantity, bool]:
    """Push of the rod alone, by the file or by the scale; a rod held still may be off by its friction either way."""
    stated = sources.stated.get("gas")
    if stated is not None:
        return stated, True
    if sources.rod is None:
        return Quantity(0.0, None, "force"), False
    read, error = sources.rod
    friction = 0.0 if sources.bench is None or math.isnan(sources.bench.friction) else sources.bench.friction
    # A rectangular band of half-width `friction` (JCGM 100:2008, 4.3.7).
    return Quantity(read, math.hypot(error or 0.0, friction / math.sqrt(3.0)), "force"), True


def _numbers(
    bench: BenchFit | None, sources: SpringSources, routes: Routes | None, gas: Quantity
) -> _Numbers:
    """Rate, start and gas: bench and wire by weight where they agree, the bench alone where they do not."""
    value, covariance = np.full(3, np.nan), np.zeros((3, 3))
    value[_GAS], covariance[_GAS, _GAS] = gas.value, (gas.error or 0.0) ** 2
    stated = sources.stated.get("rate")
    if bench is None:
        other = stated or (None if sources.wire is None else sources.wire.rate)
        if other is not None:
            value[_RATE], covariance[_RATE, _RATE] = other.value, (other.error or 0.0) ** 2
        return _Numbers(value, covariance)
    value[:2], covariance[:2, :2] = np.array([bench.rate, bench.start]), bench.covariance[:2, :2]
    if stated is not None:
        value[:2], covariance[:2, :2] = combined(bench, Quantity(stated.value, 0.0, "stiffness"))
        value[_RATE], covariance[_RATE, _RATE] = stated.value, (stated.error or 0.0) ** 2
    elif routes is not None and routes.agree and sources.wire is not None and not len(bench.rows):
        value[:2], covariance[:2, :2] = combined(bench, sources.wire.rate)
    return _Numbers(value, covariance)


def _preload(numbers: _Numbers) -> tuple[Quantity | None, Array]:
    """(start − gas) / rate, and the covariance of rate, preload and gas."""
    rate, start, gas = (float(each) for each in numbers.value)
    if not (rate > 0.0 and math.isfinite(start)):
        turned = np.diag([1.0, 0.0, 1.0])
        return None, turned @ numbers.covariance @ turned
    preload = (start - gas) / rate
    slopes = np.array([[1.0, 0.0, 0.0], [-preload / rate, 1.0 / rate, -1.0 / rate], [0.0, 0.0, 1.0]])
    covariance = slopes @ numbers.covariance @ slopes.T
    return Quantity(preload, _sigma(covariance[1, 1]), "length"), covariance


def _quantity(numbers: _Numbers, which: int, kind: str) -> Quantity | None:
    value = float(numbers.value[which])
    if not math.isfinite(value):
        return None
    return Quantity(
        value, _sigma(numbers.covariance[which, which]), "stiffness" if kind == "stiffness" else "force"
    )


def _sigma(variance: float) -> float | None:
    return math.sqrt(variance) if math.isfinite(variance) and variance > 0.0 else None


def _friction(bench: BenchFit | None) -> Quantity | None:
    if bench is None or math.isnan(bench.friction):
        return None
    return Quantity(max(0.0, bench.friction), _sigma(float(bench.covariance[2, 2])), "force")


def _bent(
    name: str,
    found: tuple[BenchFit, SpringSources, tuple[Unfit, ...]],
    numbers: _Numbers,
    gas_known: bool,
) -> SpringFit:
    """A progressive or two-rate spring: rows instead of rate and preload.

    How much too high or low they may lie is the ± of the gas, which is added to them.
    """
    bench, sources, unfit = found
    gas = float(numbers.value[_GAS]) if gas_known else 0.0
    middle = float(bench.rows[:, 0].mean())
    reach = np.array([middle, 1.0])
    height = float(reach @ numbers.covariance[:2, :2] @ reach)
    spread = np.zeros((3, 3))
    spread[_GAS, _GAS] = height if math.isfinite(height) else 0.0
    rows = bench.rows - np.array([0.0, gas, gas])
    return SpringFit(
        name,
        _quantity(numbers, _RATE, "stiffness"),
        _quantity(numbers, _START, "force"),
        Quantity(0.0, None, "length"),
        Quantity(gas, _sigma(height), "force"),
        gas_known,
        _friction(bench),
        tuple((float(a), float(b), float(c)) for a, b, c in rows),
        spread,
        bench,
        sources.wire,
        None if sources.wire is None else _routes(bench, sources.wire),
        unfit,
        frozenset({"table", "preload", "gas"}),
    )
