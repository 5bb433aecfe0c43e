"""Project → the standard deviations of everything measured, in the solver's order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from leverwright.assemble.springs import laws_of
from leverwright.linkage import Layout
from leverwright.project import Project, Shock
from leverwright.quantity import Quantity
from leverwright.ride.uncertainty import LAW_SHARE, LawSpread, Spread
from leverwright.springs import Cord, Law, ShockLaw, TwistLaw

__all__ = ["spread_of"]


def _sigma(quantity: Quantity | None) -> float:
    """One standard deviation; a length, rate or load that states none counts as exact."""
    return 0.0 if quantity is None or quantity.error is None else quantity.error


def spread_of(project: Project, layout: Layout) -> Spread:
    """Spreads for one assembly. A coordinate's own ± comes before its point's, that before the file's `error`."""
    unstated = np.nan if project.error is None else project.error
    points = np.array(
        [
            [unstated if sigma is None else sigma for sigma in point.errors]
            for point in project.points.values()
        ]
    ).reshape(-1, 3)
    wheels = [project.wheels[name] for name in layout.wheel_names]
    return Spread(
        points,
        np.array([_sigma(bar.length) for bar in project.bars.values()]),
        tuple(_laws(project, layout)),
        np.array([_sigma(wheel.load) for wheel in wheels]),
        np.array([_sigma(wheel.unsprung) for wheel in wheels]),
        np.array([_sigma(wheel.tyre) for wheel in wheels]),
    )


def _laws(project: Project, layout: Layout) -> list[LawSpread]:
    laws = laws_of(project, layout)
    names = layout.line_names
    spreads: list[LawSpread] = []
    for shock in project.shocks.values():
        users = [
            s
            for s, name in enumerate(names)
            if name in project.springs and project.springs[name].shock == shock.name
        ]
        if users:
            spreads += [_pair(laws, users, change, shift) for change, shift in _shock_changes(shock)]
    for s, name in enumerate(names):
        if name in project.straps:
            strap = project.straps[name]
            length, rate = _sigma(strap.length), _sigma(strap.rate)
            spreads.append(_pair(laws, [s], _cord("length", length), {"strap taut": length}))
            spreads.append(_pair(laws, [s], _cord("rate", rate), {}))
        elif project.springs[name].shock is None:
            spring = project.springs[name]
            spreads.append(_pair(laws, [s], _twist("rate", _sigma(spring.rate)), {}))
            spreads.append(_pair(laws, [s], _twist("twist", _sigma(spring.twist)), {}))
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


def _shock_changes(shock: Shock) -> list[tuple[_Change, dict[str, float]]]:
    """Each stated spread of a shock: how the law changes, and how far it moves the ends of travel."""

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
    changes: list[tuple[_Change, dict[str, float]]] = [
        (of("length_open", opened), {"shock open": opened}),
        (of("length_closed", closed), {"shock closed": closed}),
        (of("rate", _sigma(shock.rate)), {}),
        (of("preload", _sigma(shock.preload)), {}),
        (of("gas", _sigma(shock.gas)), {}),
    ]
    if shock.stop is not None:
        changes += [
            (of_stop("length", _sigma(shock.stop.touches)), {}),
            (of_stop("rate", _sigma(shock.stop.rate)), {}),
        ]
    return changes
