"""What may be as it stands and should be looked at: keys without which answers lack, things that do nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from leverwright.project.entries import Entry
from leverwright.project.fault import Fault
from leverwright.project.faultlist import dotted
from leverwright.project.mirror import HAS_A_SIDE, LEFT
from leverwright.project.model import Sketch
from leverwright.quantity import quoted, say

__all__ = ["notice"]

Tables = Mapping[str, Mapping[str, Entry]]


def notice(sketch: Sketch, tables: Tables, file: str) -> tuple[Fault, ...]:
    """What may be as it stands and should be looked at, by line."""
    notices = [
        *_unstated(sketch, file),
        *_unused(sketch, tables, file),
        *_sideless(sketch, tables, file),
    ]
    return tuple(sorted(notices, key=lambda one: one.line or 0))


def _unstated(sketch: Sketch, file: str) -> Iterable[Fault]:
    if sketch.pose is None:
        yield Fault(
            file,
            1,
            "pose",
            "no pose is stated",
            '"hanging", "on blocks" or "standing"',
            "say in which state the points were measured",
            "pose-unstated",
        )
    for name, wheel in sketch.wheels.items():
        if wheel.unsprung is None and wheel.twin_of is None and wheel.body != "chassis":
            yield Fault(
                file,
                wheel.line,
                dotted(("wheels", name, "unsprung")),
                f"{quoted(name)} has no unsprung weight",
                "kg of wheel, tyre and what moves with them; without it there is no frequency",
                "weigh the wheel and add unsprung",
                "unsprung-unstated",
            )


def _unused(sketch: Sketch, tables: Tables, file: str) -> Iterable[Fault]:
    used = {entry.fields.get("shock") for entry in tables["springs"].values()}
    for name, shock in sketch.shocks.items():
        if name not in used:
            yield Fault(
                file,
                shock.line,
                dotted(("shocks", name)),
                f"no spring uses the shock {quoted(name)}",
                "a spring with this shock",
                f"write shock = {quoted(name)} in a spring, or take it out",
                "shock-unused",
            )
    aboard = {name for load_set in sketch.loads.values() for name in load_set.carries}
    for name, mass in sketch.masses.items():
        if name not in aboard:
            yield Fault(
                file,
                mass.line,
                dotted(("masses", name)),
                f"no load set carries {quoted(name)}",
                "a load set with it in carries",
                f"write {quoted(name)} into carries of a load set, or take it out",
                "mass-unused",
            )
    for name, body in sketch.bodies.items():
        if len(body.points) == 1 and body.twin_of is None:
            yield Fault(
                file,
                body.line,
                dotted(("bodies", name)),
                f"{quoted(name)} is a body of one point",
                "two or more points: one alone can turn any way",
                "add the other points that it carries",
                "body-of-one-point",
            )


def _sideless(sketch: Sketch, tables: Tables, file: str) -> Iterable[Fault]:
    """Points away from the middle plane without a side in their name."""
    if not sketch.mirror or sketch.plane:
        return
    for name, point in sketch.points.items():
        if point.at[1] > HAS_A_SIDE and not name.endswith(LEFT) and not point.alone:
            key = tables["points"][name].path
            yield Fault(
                file,
                point.line,
                dotted(key),
                f"{quoted(name)} lies {say(point.at[1], 'length')} left of the middle",
                "a name that ends in -left, or alone = true",
                "write { at = […], alone = true } if it has no twin on the right",
                "side-unstated",
            )
