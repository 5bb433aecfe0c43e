"""Impossible geometry and impossible numbers in a vehicle whose keys all read."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from itertools import islice

from leverwright.project.checks import Tables
from leverwright.project.dangling import names_in
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.limits import LIMITS
from leverwright.project.mirror import HAS_A_SIDE, LEFT, RIGHT, other_side
from leverwright.project.model import Sketch, Wheel
from leverwright.quantity import quoted, say

__all__ = ["check_shape"]

Place = tuple[float, float, float]

# m. Two points nearer than this are one: no tape tells them apart, and a line through them has no direction.
# Smaller would let a direction through that is all measuring error.
_SAME_PLACE = 1e-4
# cos 45 deg. A spin axis further from y than this is no wheel's; the words say 45 deg.
_LEAST_AXIS_Y = math.cos(math.radians(45.0))
# m. Wheels whose centres lie in a band narrower than this are on one side or in the middle.
_ONE_TRACK = 0.05
# Keys of measurements whose points may be mere marks, on the floor or on a tube.
_MARKS = {
    "tape": ("between", "height", "offset", "ahead", "plumb", "level", "along", "point", "side", "of"),
    "photos": ("picks",),
}


def check_shape(sketch: Sketch, tables: Tables, faults: FaultList) -> None:
    """Adds a fault for everything that no vehicle can be."""
    checker = _Checker(sketch, tables, faults)
    checker.size()
    checker.sides()
    checker.joined_points()
    checker.hinges()
    checker.lone_points()
    checker.bars()
    checker.shocks()
    checker.holds()
    checker.wheels()


class _Checker:
    """The geometry of one sketch; each method is one question."""

    def __init__(self, sketch: Sketch, tables: Tables, faults: FaultList) -> None:
        self._sketch = sketch
        self._tables = tables
        self._faults = faults
        self._bodies_of: dict[str, list[str]] = defaultdict(list)
        for body in sketch.bodies.values():
            for point in body.points:
                self._bodies_of[point].append(body.name)

    def size(self) -> None:
        """A small vehicle, so that its answers come within seconds."""
        for table in ("wheels", "springs", "straps", "bars", "held"):
            count, most = len(self._tables[table]), getattr(LIMITS, table)
            if count > most:
                found = f"{count} {table}, twins counted"
                self._faults.add_whole((found, f"at most {most} {table}", "keep one small vehicle in a file"))
        freedoms = self._freedoms()
        if freedoms > LIMITS.freedoms:
            found = f"moving bodies and free points with {freedoms} freedoms before bars hold them"
            allowed = (
                f"at most {LIMITS.freedoms} (6 for a body, 1 for one hinged to the chassis, 3 for a free point; "
                "3, 1 and 2 when flat)"
            )
            self._faults.add_whole(
                (found, allowed, "join bodies that move as one, and write plain links as bars")
            )

    def _freedoms(self) -> int:
        """Unknowns of the solver: a body of two points counts too, for it may hang loose."""
        flat = self._sketch.plane is not None
        chassis = self._sketch.bodies.get("chassis")
        fixed = set(chassis.points) if chassis is not None else set()
        total = 0
        for body in self._sketch.bodies.values():
            shared = len(fixed.intersection(body.points))
            if body.name != "chassis":
                total += (3, 1, 0)[min(shared, 2)] if flat else (6, 3, 1)[min(shared, 2)]
        sketch = self._sketch
        joined = [bar.ends for bar in sketch.bars.values()]
        joined += [strap.ends for strap in sketch.straps.values()]
        joined += [spring.ends for spring in sketch.springs.values() if spring.ends is not None]
        free = {end for ends in joined for end in ends} - self._bodies_of.keys()
        return total + len(free) * (2 if flat else 3)

    def sides(self) -> None:
        """A point named for the left lies on the left."""
        if not self._sketch.mirror or self._sketch.plane:
            return
        for name, point in self._sketch.points.items():
            if name.endswith(LEFT) and point.at[1] <= 0:
                self._fault(
                    "points",
                    name,
                    "at",
                    f"{quoted(name)} lies at y = {_mm(point.at[1])}",
                    "y over 0 for a name that ends in -left (y is to the left)",
                    "check the sign of y",
                )
            elif name.endswith(LEFT) and point.alone:
                self._fault(
                    "points",
                    name,
                    "alone",
                    f"{quoted(name)} is alone and ends in -left",
                    "alone = true only for a point without -left",
                    "rename it or take alone out",
                )

    def joined_points(self) -> None:
        """The ends of a bar, spring or strap are two places, and no one body carries both."""
        for table in ("bars", "springs", "straps"):
            for name, thing in getattr(self._sketch, table).items():
                if thing.ends is not None:
                    self._ends(table, name, thing.ends)

    def _ends(self, table: str, name: str, ends: tuple[str, str]) -> None:
        first, second = ends
        if first == second:
            self._fault(
                table,
                name,
                "ends",
                f"both ends of {quoted(name)} are {quoted(first)}",
                "two points",
                "name another point",
            )
            return
        both = [body for body in self._bodies_of[first] if body in self._bodies_of[second]]
        if both:
            self._fault(
                table,
                name,
                "ends",
                f"both ends of {quoted(name)} are on the body {quoted(both[0])}",
                "ends on two bodies",
                "name a point of another body: between two points of one body nothing moves",
            )
            return
        length = self._distance(first, second)
        if length is not None and length < _SAME_PLACE:
            self._fault(
                table,
                name,
                "ends",
                f"{quoted(first)} and {quoted(second)} lie at the same place",
                "ends at least 0.1 mm apart",
                "check the coordinates of both",
            )

    def hinges(self) -> None:
        """The two points of a hinge are two places; not too many bodies meet at a point."""
        for point, bodies in self._bodies_of.items():
            if len(bodies) > LIMITS.bodies_at_point:
                self._fault(
                    "points",
                    point,
                    "at",
                    f"{len(bodies)} bodies carry {quoted(point)}",
                    f"at most {LIMITS.bodies_at_point}",
                    "give it to fewer bodies",
                )
                return
        order = {name: at for at, name in enumerate(self._sketch.points)}
        pairs: list[tuple[int, int]] = []
        for first, others in _near_points({name: point.at for name, point in self._sketch.points.items()}):
            if len(others) >= LIMITS.points_at_place:
                found = f"{LIMITS.points_at_place} or more points lie where {quoted(first)} does"
                allowed = "fewer points at one place"
                self._fault("points", first, "at", found, allowed, "check the coordinates")
                return
            at = order[first]
            pairs += ((min(at, order[other]), max(at, order[other])) for other in others)
        names = list(order)
        for one, other in sorted(pairs):  # in file order, so that an original comes before its twin
            self._hinge_points(names[one], names[other])

    def _hinge_points(self, first: str, second: str) -> None:
        """Two points at one place are no hinge."""
        shared = [body for body in self._bodies_of[first] if body in self._bodies_of[second]]
        if len(shared) > 1:
            found = (
                f"{quoted(first)} and {quoted(second)} lie at the same place and make the hinge of "
                f"{quoted(shared[0])} and {quoted(shared[1])}"
            )
            allowed = "the two points of a hinge at least 0.1 mm apart"
            self._fault("points", second, "at", found, allowed, "move one along the pin")

    def lone_points(self) -> None:
        """A point on no body has two bars, springs or straps, or is held, or is a mark that a tape goes to."""
        if any(
            entry.broken
            for table in ("bodies", "bars", "springs", "straps", "held", *_MARKS)
            for entry in self._tables[table].values()
        ):
            return  # what cannot be read may be what carries the point
        meeting: dict[str, int] = defaultdict(int)
        for table in ("bars", "springs", "straps"):
            for entry in self._tables[table].values():
                for end in names_in(entry.fields.get("ends")):
                    meeting[end] += 1
        led = {entry.fields.get("point") for entry in self._tables["held"].values()}
        measured = {
            name
            for table, keys in _MARKS.items()
            for entry in self._tables[table].values()
            for key in keys
            for name in _names_of(entry.fields.get(key))
        }
        if self._sketch.mirror:  # what is measured of one side is measured of its twin
            measured |= {other_side(name, self._tables["points"]) for name in measured}
        carried = measured | {
            name for entry in self._tables["bodies"].values() for name in names_in(entry.fields.get("points"))
        }
        for name in self._tables["points"]:
            if name not in carried and name not in led and meeting[name] < 2:
                self._fault(
                    "points",
                    name,
                    "at",
                    f"no body carries {quoted(name)}",
                    "a point of a body, one where two or more bars, springs or straps meet, or a mark for tapes",
                    "add it to a body in [bodies], or take it out",
                )

    def bars(self) -> None:
        """No two bars join the same points; an adjuster leaves some length."""
        joined: dict[frozenset[str], str] = {}
        for name, bar in self._sketch.bars.items():
            other = joined.setdefault(frozenset(bar.ends), name)
            if other != name:
                self._fault(
                    "bars",
                    name,
                    "ends",
                    f"{quoted(name)} joins the same two points as {quoted(other)}",
                    "one bar between two points",
                    "take one of them out, or name another point",
                )
            length = bar.length.value if bar.length else self._distance(*bar.ends)
            if bar.adjust and length is not None and length + bar.adjust[0] < _SAME_PLACE:
                self._fault(
                    "bars",
                    name,
                    "adjust",
                    f"the adjuster can take {_mm(-bar.adjust[0])} off {_mm(length)}",
                    "less than the bar's length",
                    "check the numbers",
                )

    def shocks(self) -> None:
        """A shock is longer open than closed; its coils and its stop touch within its stroke."""
        for name, shock in self._sketch.shocks.items():
            stroke = shock.length_open.value - shock.length_closed.value
            if (
                stroke < _SAME_PLACE
                and not {"length_open", "length_closed"} & self._tables["shocks"][name].places.keys()
            ):
                continue  # both are the pile's, where it is said
            if stroke < _SAME_PLACE:
                self._fault(
                    "shocks",
                    name,
                    "length_closed",
                    f"{quoted(name)} is {_mm(shock.length_closed.value)} closed and "
                    f"{_mm(shock.length_open.value)} open",
                    "length_closed below length_open",
                    "swap them, or check the units",
                )
                continue
            if shock.coils_touch is not None and shock.coils_touch.value >= shock.length_open.value:
                found = f"the coils touch at {_mm(shock.coils_touch.value)}"
                allowed = f"below the length fully open, {_mm(shock.length_open.value)}"
                self._fault("shocks", name, "coils_touch", found, allowed, "measure eye to eye")
            if shock.stop is not None and shock.stop.touches.value > stroke:
                self._faults.add(
                    Rank.GEOMETRY,
                    ("shocks", name, "stop", "touches"),
                    (
                        f"the stop touches {_mm(shock.stop.touches.value)} before closed",
                        f"at most the stroke, {_mm(stroke)}",
                        "check the number",
                    ),
                )

    def holds(self) -> None:
        """A led point is on no body; a hinge is one; nothing is held twice."""
        seen: dict[object, str] = {}
        for name, held in self._sketch.held.items():
            key = "point" if held.point is not None else "bodies"
            what = held.point if held.point is not None else frozenset(held.bodies or ())
            other = seen.setdefault(what, name)
            if other != name:
                self._fault(
                    "held",
                    name,
                    key,
                    f"{quoted(name)} holds the same as {quoted(other)}",
                    "each point or hinge held once",
                    "take one of them out",
                )
            if held.point is not None and self._bodies_of[held.point]:
                self._fault(
                    "held",
                    name,
                    "point",
                    f"{quoted(held.point)} is on the body {quoted(self._bodies_of[held.point][0])}",
                    "a point on no body, where bars end",
                    "take it out of the body, or name another point",
                )
            if held.bodies is not None:
                self._hinge("held", name, "bodies", held.bodies)
        for name, spring in self._sketch.springs.items():
            if spring.hinge is not None:
                self._hinge("springs", name, "hinge", spring.hinge)

    def _hinge(self, table: str, name: str, key: str, bodies: tuple[str, str]) -> None:
        """Two bodies that share the points of a hinge: two, or one in a flat drawing."""
        first, second = (self._sketch.bodies.get(body) for body in bodies)
        if first is None or second is None:
            return
        needed = 1 if self._sketch.plane else 2
        if first is second:
            self._fault(
                table, name, key, f"{quoted(first.name)} stands twice", "two bodies", "name the other body"
            )
        elif len(set(first.points) & set(second.points)) < needed:
            points = "one point" if needed == 1 else "two points"
            self._fault(
                table,
                name,
                key,
                f"{quoted(first.name)} and {quoted(second.name)} are not hinged together",
                f"two bodies that share {points}",
                "give both bodies the points of the hinge",
            )

    def wheels(self) -> None:
        """A wheel's points are on its body, its axis points outward, its loads are possible."""
        for name, wheel in self._sketch.wheels.items():
            body = self._sketch.bodies.get(wheel.body)
            for key, points in (("centre", (wheel.centre,)), ("axis", wheel.axis or ())):
                for point in points:
                    if body is not None and point in self._sketch.points and point not in body.points:
                        self._fault(
                            "wheels",
                            name,
                            key,
                            f"{quoted(point)} is not on the body {quoted(wheel.body)}",
                            "points of the body that carries the wheel",
                            f"add it to {quoted(wheel.body)} in [bodies]",
                        )
            if wheel.axis is not None:
                self._axis(wheel, wheel.axis)
            if wheel.unsprung and wheel.load and wheel.unsprung.value >= wheel.load.value:
                self._fault(
                    "wheels",
                    name,
                    "unsprung",
                    f"{say(wheel.unsprung.value, 'mass')} unsprung of {say(wheel.load.value, 'mass')}",
                    "less than load, which is all that the scale reads",
                    "check both numbers",
                )

    def _axis(self, wheel: Wheel, axis: tuple[str, str]) -> None:
        inner, outer = (self._sketch.points.get(point) for point in axis)
        centre = self._sketch.points.get(wheel.centre)
        if inner is None or outer is None or centre is None:
            return
        length = math.dist(inner.at, outer.at)
        if length < _SAME_PLACE:
            self._fault(
                "wheels",
                wheel.name,
                "axis",
                f"{quoted(axis[0])} and {quoted(axis[1])} lie at the same place",
                "two points at least 0.1 mm apart",
                "name another point",
            )
            return
        along_y = (outer.at[1] - inner.at[1]) / length
        if abs(along_y) < _LEAST_AXIS_Y - 1e-12:
            angle = math.degrees(math.acos(min(1.0, abs(along_y))))
            self._fault(
                "wheels",
                wheel.name,
                "axis",
                f"the spin axis stands {angle:.0f} deg off y",
                "at most 45 deg off y, the vehicle's left",
                "name two points along the wheel's spindle",
            )
        elif along_y * self._outward(wheel, centre.at[1]) < 0:
            self._fault(
                "wheels",
                wheel.name,
                "axis",
                f"the axis from {quoted(axis[0])} to {quoted(axis[1])} points inward",
                "the inner point first, the outer second",
                f"write {quoted(axis[1])} first, then {quoted(axis[0])}",
            )

    def _outward(self, wheel: Wheel, y: float) -> int:
        """The sign of y outward at this wheel; 0 where either way may be."""
        if wheel.name.endswith((LEFT, RIGHT)):
            return 1 if wheel.name.endswith(LEFT) else -1
        centres = [
            self._sketch.points[one.centre].at[1]
            for one in self._sketch.wheels.values()
            if one.centre in self._sketch.points
        ]
        low, high = min(centres), max(centres)
        # An origin off the vehicle's middle puts all wheels on one side of it: then their own middle counts.
        beside = high - low > _ONE_TRACK and low * high > 0
        away = y - (low + high) / 2 if beside else y
        return 0 if abs(away) <= HAS_A_SIDE else int(math.copysign(1, away))

    def _distance(self, first: str, second: str) -> float | None:
        ends = [self._sketch.points.get(point) for point in (first, second)]
        return math.dist(ends[0].at, ends[1].at) if ends[0] and ends[1] else None

    def _fault(self, table: str, name: str, key: str, *said: str) -> None:  # found, allowed, do
        entry = self._tables[table][name]
        place = entry.place(key)
        if not (entry.twin_of is not None and self._faults.has(Rank.GEOMETRY, place)):
            self._faults.add(Rank.GEOMETRY, place, (said[0], said[1], said[2]))


def _near_points(places: Mapping[str, Place]) -> Iterable[tuple[str, list[str]]]:
    """Points that lie at the same place as one another: each with those after it, of many only some.

    Sorted along one slanting direction, neighbours in space are neighbours in the list.
    """
    along = sorted((x * 0.61 + y * 0.53 + z * 0.59, name, (x, y, z)) for name, (x, y, z) in places.items())
    reach = _SAME_PLACE * 1.01  # the direction is a little longer than 1
    for at, (here, name, place) in enumerate(along):
        near: list[str] = []
        for there, other, other_place in islice(along, at + 1, None):
            if there - here > reach or len(near) == LIMITS.points_at_place:
                break
            if math.dist(place, other_place) < _SAME_PLACE:
                near.append(other)
        if near:
            yield name, near


def _names_of(value: object) -> Iterable[str]:
    """The names in the value of a key: one, several, or the keys of a table."""
    if isinstance(value, Mapping):
        return tuple(value)
    return (value,) if isinstance(value, str) else names_in(value)


def _mm(length: float) -> str:
    return say(length, "length")
