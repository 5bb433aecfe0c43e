"""Measurements that cannot be: tapes with no sense, wheels weighed twice, shocks squashed beyond their stroke."""

from __future__ import annotations

from collections.abc import Mapping

from leverwright.project.checks import Tables
from leverwright.project.faultlist import FaultList, Rank
from leverwright.project.limits import LIMITS
from leverwright.project.loads import load_set_names, usual_of
from leverwright.project.measuring import Bench, Tape, Wire
from leverwright.project.mirror import LEFT
from leverwright.project.model import Sketch
from leverwright.quantity import quoted, say

__all__ = ["check_measured"]

# m. How far a mark may lie outside the stroke: what a tape may be off by when it is held badly, not more.
_OUTSIDE_STROKE = 3e-3
_MISSING_AXIS = {"xz": ("offset", ("left", "right")), "yz": ("ahead", ("ahead", "behind"))}


def check_measured(sketch: Sketch, tables: Tables, faults: FaultList) -> None:
    """Adds a fault for every measurement that no vehicle can have."""
    checker = _Checker(sketch, tables, faults)
    checker.size()
    checker.tapes()
    checker.weighings()
    checker.load_sets()
    checker.wires()
    checker.benches()
    checker.photos()


class _Checker:
    """The measurements of one sketch; each method is one question."""

    def __init__(self, sketch: Sketch, tables: Tables, faults: FaultList) -> None:
        self._sketch = sketch
        self._tables = tables
        self._faults = faults

    def size(self) -> None:
        """A network that is solved within seconds."""
        named = {point for tape in self._sketch.tape.values() for point in tape.points}
        named |= {point for photo in self._sketch.photos.values() for point in photo.picks}
        named |= {name for name, point in self._sketch.points.items() if point.sketched}
        points = self._sketch.points
        named = {points[name].twin_of or name if name in points else name for name in named}
        if len(named) > LIMITS.taped_points:
            found = f"{len(named)} points with a tape or in a picture"
            allowed = f"at most {LIMITS.taped_points}"
            self._faults.add_whole((found, allowed, "give the others their coordinates"))

    def tapes(self) -> None:
        """Each tape joins different points, and says what its drawing can show."""
        for name, tape in self._sketch.tape.items():
            twice = [one for at, one in enumerate(tape.points) if one in tape.points[:at]]
            if twice:
                key = "point" if tape.kind == "along" else "of" if tape.kind == "side" else tape.kind
                found = f"{quoted(twice[0])} stands twice in it"
                self._fault("tape", name, key, found, "different points", "name another point")
            self._tape_in_plane(tape)
            below = tape.kind == "offset" and self._sketch.mirror and tape.points[0].endswith(LEFT)
            if below and any(read.value <= 0 for read in tape.reads):
                found = f"{quoted(tape.points[0])} is read {say(tape.reads[0].value, 'length')} from the centre plane"
                allowed = "over 0 for a name that ends in -left"
                self._fault("tape", name, "reads", found, allowed, "check the sign: + is left")

    def _tape_in_plane(self, tape: Tape) -> None:
        """No statement along the axis that a flat drawing does not have."""
        plane = self._sketch.plane
        if plane is None:
            return
        kind, sides = _MISSING_AXIS[plane]
        view = "from the side" if plane == "xz" else "from the front"
        if tape.kind == kind:
            found = f"a tape of {kind} stands in a drawing {view}"
            self._fault("tape", tape.name, kind, found, "what such a drawing shows", "take it out")
        if tape.side in sides:
            found = f"{quoted(tape.side)} stands in a drawing {view}"
            self._fault(
                "tape", tape.name, "is", found, "a side that such a drawing shows", "name another side"
            )

    def load_sets(self) -> None:
        """Where no masses are named, every wheel is on the scale; not asked while a name there leads nowhere."""
        if self._faults.touches("weighed") or self._faults.touches("loads"):
            return
        usual = usual_of(load_set_names(self._tables))
        for name, load_set in self._sketch.loads.items():
            entry = self._tables["loads"][name]
            if "carries" in entry.places or name == usual:
                continue  # of the usual one each wheel asks for itself
            weighed = {one.wheel for one in self._sketch.weighed.values() if one.load_set == name}
            for wheel in self._tables["wheels"]:
                place = ("loads", name, "scale", wheel)
                if wheel in weighed or wheel in load_set.scale:
                    continue
                found = f"the load set {quoted(name)} says nothing of {quoted(wheel)}"
                allowed = "masses in carries, or every wheel on the scale"
                self._faults.add(Rank.MISSING_KEY, place, (found, allowed, f"add {quoted(wheel)} to scale"))

    def weighings(self) -> None:
        """No wheel is weighed twice with the same aboard; no part weighs more than the whole."""
        usual = usual_of(load_set_names(self._tables))
        seen: dict[tuple[str, str | None], str] = {}
        for name, weighing in self._sketch.weighed.items():
            other = seen.setdefault((weighing.wheel, weighing.load_set or usual), name)
            if other != name:
                key = "wheel" if "wheel" in self._tables["weighed"][name].places else "reads"
                found = (
                    f"{quoted(weighing.wheel)} is weighed in {quoted(other)} already, with the same aboard"
                )
                do = "put both readings into one list of reads, or name another set"
                self._fault("weighed", name, key, found, "each wheel once with each load set", do)
        tilt = self._sketch.tilt
        if tilt is None:
            return
        whole = tilt.total or (self._sketch.scale.total if self._sketch.scale else None)
        key = "tilted" if tilt.tilted.value > tilt.level.value else "level"
        part = max(tilt.level.value, tilt.tilted.value)
        if whole is not None and part >= whole.value:
            found = f"one end reads {say(part, 'mass')} of {say(whole.value, 'mass')} in all"
            self._fault("tilt", "", key, found, "less than the whole vehicle", "check both numbers")

    def wires(self) -> None:
        """A coil is wider than the wire that it is wound of; a shock of the pile is longer open than closed."""
        wires: list[tuple[str, str, Wire | None]] = [
            *(("shocks", name, shock.wire) for name, shock in self._sketch.shocks.items()),
            *(("pile", name, shock.wire) for name, shock in self._sketch.pile.items()),
        ]
        for table, name, wire in wires:
            if wire is None or "wire" not in self._tables[table][name].places:
                continue
            key, across, least = ("outside", wire.outside, 2.0) if wire.outside else ("mean", wire.mean, 1.0)
            if across is not None and across.value <= least * wire.diameter.value:
                coil, thick = (say(one.value, "length") for one in (across, wire.diameter))
                found = f"a coil of {coil} is wound of wire of {thick}"
                place = (*self._tables[table][name].place("wire"), key)
                said = (found, "a coil with a hole in it", "check both numbers and their units")
                self._faults.add(Rank.GEOMETRY, place, said)
        for name, shock in self._sketch.pile.items():
            if (
                shock.length_open
                and shock.length_closed
                and shock.length_open.value <= shock.length_closed.value
            ):
                closed, opened = (
                    say(one.value, "length") for one in (shock.length_closed, shock.length_open)
                )
                found = f"{quoted(name)} is {closed} closed and {opened} open"
                allowed = "length_closed below length_open"
                self._fault("pile", name, "length_closed", found, allowed, "swap them, or check the units")

    def benches(self) -> None:
        """Marks lie within the stroke; what came back is no more than what was pushed in."""
        for name, bench in self._sketch.bench.items():
            self._marks_in_stroke(name, bench)
            back = bench.returned
            if back is not None and back.by.value > back.of.value:
                found = f"it came back {say(back.by.value, 'length')} of {say(back.of.value, 'length')}"
                place = ("bench", name, "returned", "by")
                self._faults.add(
                    Rank.GEOMETRY, place, (found, "by at most of", "swap them, or check the numbers")
                )

    def _marks_in_stroke(self, name: str, bench: Bench) -> None:
        shock = self._sketch.shocks.get(name) or self._sketch.pile.get(name)
        key = "marks" if "marks" in self._tables["bench"][name].places else "lengths"
        least, most = bench.squash[0].value, bench.squash[-1].value
        if least < -_OUTSIDE_STROKE:
            found = f"the first length is {say(-least, 'length')} over fully open"
            self._fault("bench", name, key, found, "lengths of length_open or less", "measure eye to eye")
        if shock is None or shock.length_open is None or shock.length_closed is None:
            return
        stroke = shock.length_open.value - shock.length_closed.value
        if stroke > 0 and most > stroke + _OUTSIDE_STROKE:
            found = f"it is squashed {say(most, 'length')} of a stroke of {say(stroke, 'length')}"
            do = "count from fully open, or check the lengths"
            self._fault("bench", name, key, found, "marks within the stroke", do)

    def photos(self) -> None:
        """A photograph looks at the drawing from the drawing's side."""
        views: Mapping[str | None, str] = {"xz": "side", "yz": "front"}
        wanted = views.get(self._sketch.plane)
        for name, photo in self._sketch.photos.items():
            if wanted is not None and photo.view != wanted:
                found = f"a photograph from the {photo.view} stands in a drawing from the {wanted}"
                self._fault(
                    "photos", name, "view", found, f'"{wanted}"', "take a photograph of what is drawn"
                )

    def _fault(self, table: str, name: str, key: str, *said: str) -> None:  # found, allowed, do
        place = self._tables[table][name].place(key)
        self._faults.add(Rank.GEOMETRY, place, (said[0], said[1], said[2]))
