"""Project → the standard deviations of everything measured, in the solver's order."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Literal

import numpy as np

from leverwright.assemble.blocks import Block
from leverwright.assemble.measured import Measured
from leverwright.assemble.springs import laws_of
from leverwright.geometry import Array
from leverwright.linkage import Layout
from leverwright.project import Project, Shock
from leverwright.quantity import Quantity
from leverwright.ride.uncertainty import LAW_SHARE, LawSpread, Linked, Spread
from leverwright.springs import Cord, Law, ShockLaw, TwistLaw

__all__ = ["spread_of"]

_AXES = ((0, "x"), (1, "y"), (2, "z"))
_Kind = Literal["point", "law", "load"]
_Numbers = dict[tuple[str, ...], tuple[int, int]]


def _sigma(quantity: Quantity | None) -> float:
    """One standard deviation; a length, rate or load that states none counts as exact."""
    return 0.0 if quantity is None or quantity.error is None else quantity.error


def spread_of(measured: Measured, layout: Layout) -> Spread:
    """Spreads for one assembly. A coordinate's own ± comes before its point's, that before the file's `error`."""
    project = measured.project
    unstated = np.nan if project.error is None else project.error
    points = np.array(
        [
            [unstated if sigma is None else sigma for sigma in point.errors]
            for point in project.points.values()
        ]
    ).reshape(-1, 3)
    points[[name in measured.unknown for name in project.points]] = np.nan
    laws = _laws(project, layout)
    wheels = [project.wheels[name] for name in layout.wheel_names]
    return Spread(
        points,
        np.array([_sigma(bar.length) for bar in project.bars.values()]),
        tuple(law for _, law in laws),
        np.array([_sigma(wheel.load) for wheel in wheels]),
        np.array([_sigma(wheel.unsprung) for wheel in wheels]),
        np.array([_sigma(wheel.tyre) for wheel in wheels]),
        tuple(_linked(measured, layout, [key for key, _ in laws])),
    )


def _linked(measured: Measured, layout: Layout, laws: list[tuple[str, ...]]) -> Iterable[Linked]:
    """What of each block this assembly has to do with, in its numbers."""
    at: _Numbers = {
        ("point", name, axis): (k, a) for k, name in enumerate(measured.project.points) for a, axis in _AXES
    }
    law: _Numbers = {key: (k, 0) for k, key in enumerate(laws)}
    load: _Numbers = {("load", name): (k, 0) for k, name in enumerate(layout.wheel_names)}
    kinds: tuple[tuple[_Kind, _Numbers], ...] = (("point", at), ("law", law), ("load", load))
    for block in measured.blocks:
        for kind, numbers in kinds:
            found = [k for k, key in enumerate(block.inputs) if key in numbers]
            if len(found) > 1:
                yield Linked(kind, tuple(numbers[block.inputs[k]] for k in found), _correlation(block, found))


def _correlation(block: Block, found: list[int]) -> Array:
    covariance = block.covariance[np.ix_(found, found)]
    sigma = np.sqrt(np.diag(covariance))
    both = np.outer(sigma, sigma)
    return np.where(both > 0.0, covariance / np.where(both > 0.0, both, 1.0), np.eye(len(found)))


def _laws(project: Project, layout: Layout) -> list[tuple[tuple[str, ...], LawSpread]]:
    """Each number of a law with the name that a block has for it."""
    laws = laws_of(project, layout)
    names = layout.line_names
    spreads: list[tuple[tuple[str, ...], LawSpread]] = []
    for shock in project.shocks.values():
        users = [
            s
            for s, name in enumerate(names)
            if name in project.springs and project.springs[name].shock == shock.name
        ]
        if users:
            spreads += [
                (("shock", shock.name, key), _pair(laws, users, change, shift))
                for key, change, shift in _shock_changes(shock)
            ]
    for s, name in enumerate(names):
        if name in project.straps:
            strap = project.straps[name]
            length, rate = _sigma(strap.length), _sigma(strap.rate)
            taut = {"strap taut": length}
            spreads.append((("strap", name, "length"), _pair(laws, [s], _cord("length", length), taut)))
            spreads.append((("strap", name, "rate"), _pair(laws, [s], _cord("rate", rate), {})))
        elif project.springs[name].shock is None:
            spring = project.springs[name]
            for key, sigma in (("rate", _sigma(spring.rate)), ("twist", _sigma(spring.twist))):
                spreads.append((("spring", name, key), _pair(laws, [s], _twist(key, sigma), {})))
    return spreads


_Change = Callable[[Law, float], Law]


def _pair(laws: tuple[Law, ...], users: list[int], change: _Change, shift: dict[str, float]) -> LawSpread:
    up = {s: change(laws[s], LAW_SHARE) for s in users}
    down = {s: change(laws[s], -LAW_SHARE) for s in users}
    return LawSpread(up, down, shift)


def _cord(key: str, sigma: float) -> _Change:
    def change(law: Law, share: float) -> Law:
        if not isinstance(law, Cord):
            raise TypeError("a strap's number on something that is no strap")
        return replace(law, **{key: getattr(law, key) + share * sigma})

    return change


def _twist(key: str, sigma: float) -> _Change:
    def change(law: Law, share: float) -> Law:
        if not isinstance(law, TwistLaw):
            raise TypeError("a hinge spring's number on something that is none")
        return replace(law, **{key: getattr(law, key) + share * sigma})

    return change


def _tilted(sigma: float) -> _Change:
    """A measured table steeper about the middle of its marks, where its height is known best."""

    def change(law: Law, share: float) -> Law:
        if not isinstance(law, ShockLaw):
            raise TypeError("a shock's number on something that is no shock")
        rows = law.rows.copy()
        rows[:, 1:] += share * sigma * (rows[:, :1] - rows[:, 0].mean())
        return replace(law, rows=rows)

    return change


def _shock_changes(shock: Shock) -> list[tuple[str, _Change, dict[str, float]]]:
    """Each stated spread of a shock: its key, how the law changes, and how far it moves the ends of travel."""

    def of(key: str, sigma: float) -> _Change:
        def change(law: Law, share: float) -> Law:
            if not isinstance(law, ShockLaw):
                raise TypeError("a shock's number on something that is no shock")
            changed = replace(law, **{key: getattr(law, key) + share * sigma})
            if key == "length_closed" and law.stop is not None:
                changed = replace(changed, stop=replace(law.stop, length=law.stop.length + share * sigma))
            return changed

        return change

    def of_stop(key: str, sigma: float) -> _Change:
        def change(law: Law, share: float) -> Law:
            if not isinstance(law, ShockLaw) or law.stop is None:
                raise TypeError("a bump stop's number on something that has none")
            return replace(law, stop=replace(law.stop, **{key: getattr(law.stop, key) + share * sigma}))

        return change

    opened, closed = _sigma(shock.length_open), _sigma(shock.length_closed)
    changes: list[tuple[str, _Change, dict[str, float]]] = [
        ("length_open", of("length_open", opened), {"shock open": opened}),
        ("length_closed", of("length_closed", closed), {"shock closed": closed}),
        ("rate", _tilted(shock.tilt) if shock.table else of("rate", _sigma(shock.rate)), {}),
        ("preload", of("preload", _sigma(shock.preload)), {}),
        ("gas", of("gas", _sigma(shock.gas)), {}),
    ]
    if shock.stop is not None:
        changes += [
            ("stop touches", of_stop("length", _sigma(shock.stop.touches)), {}),
            ("stop rate", of_stop("rate", _sigma(shock.stop.rate)), {}),
        ]
    return changes
