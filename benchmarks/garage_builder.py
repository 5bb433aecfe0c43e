"""The builder in the garage: tapes, one bathroom scale, a bench; what he reads goes into a project file.

He sees the vehicle only through these readings. Some are blunders: a wrong reading, a wrong point. What he writes
as ± is what his tools are worth, not what they did this time.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from benchmarks.garage_truth import GRAVITY
from benchmarks.garage_vehicles import TrueVehicle
from tests.reference.vehicle import MM, Array

__all__ = ["Builder", "Reading", "exact_file", "lay_tape", "measured_file", "set_to_work"]

_HOOK = 0.4  # mm, play and wear of the tape's hook: one for all readings of a tape
_BLUNDERS = 0.015  # of all tapes
_BLUNDER = (5.0, 30.0)  # mm
_SKETCH = 25.0  # mm, standard deviation of a place drawn by eye
_SCALE = 0.5  # kg, standard deviation of one reading of the scale
_MARK = 1.0  # mm, of a shock's length at a mark
_UNSPRUNG = 0.4  # kg
_REPEATS = 3  # times that a wheel is weighed
_SPARE = 0.8  # readings more than needed, by what is needed


@dataclass(frozen=True, slots=True)
class Reading:
    """One tape: its kind, the points, what it read [mm], and by how much of it is a blunder."""

    kind: str
    points: tuple[str, ...]
    reads: float
    blunder: float = 0.0


@dataclass(slots=True)
class Builder:
    """One builder with his tools and what he has read so far; `true` holds every point that he can reach."""

    vehicle: TrueVehicle
    rng: np.random.Generator
    tape: float  # mm, standard deviation of a reading that is no blunder
    hook: float  # mm
    rounds: float  # kg, the scale's last figure
    tapes: list[Reading] = field(default_factory=list)
    written: str = ""

    @property
    def scale(self) -> float:
        """What he writes as ± of a reading of the scale [kg]: spread and last figure together."""
        return round(float(np.hypot(_SCALE, self.rounds / np.sqrt(12))), 2)

    @property
    def stated(self) -> float:
        """What he writes as ± of a reading [mm]: spread, hook and the whole millimetre together."""
        return round(float(np.sqrt(self.tape**2 + _HOOK**2 + 1 / 12)), 1)

    def read(self, kind: str, points: Sequence[str]) -> Reading:
        """A tape laid once more, by the same man."""
        true = _true(self.vehicle, kind, points)
        slip = self._slip(kind, points, true) if self.rng.random() < _BLUNDERS else 0.0
        seen = true + self.hook + slip + self.rng.normal(0.0, self.tape)
        return Reading(kind, tuple(points), float(round(seen)), slip)

    def _slip(self, kind: str, points: Sequence[str], true: float) -> float:
        """A figure misread, or the next hole taken for the right one where that lies 5 to 30 mm off."""
        if kind == "between" and self.rng.random() < 0.5:
            others = [p for p in self.vehicle.points if p not in points]
            off = [_true(self.vehicle, kind, (points[0], p)) - true for p in others]
            near = [d for d in off if _BLUNDER[0] <= abs(d) <= _BLUNDER[1]]
            if near:
                return float(self.rng.choice(near))
        return float(self.rng.uniform(*_BLUNDER) * self.rng.choice([-1.0, 1.0]))


def set_to_work(vehicle: TrueVehicle, rng: np.random.Generator) -> Builder:
    """A builder who has taped the vehicle once: every height and side offset, and many distances."""
    builder = Builder(
        vehicle,
        rng,
        float(rng.uniform(1.0, 2.0)),
        float(rng.normal(0.0, _HOOK)),
        float(rng.choice([0.1, 0.2, 0.5])),
    )
    planned = _plan(vehicle, rng)
    builder.tapes = [builder.read(kind, points) for kind, points in planned]
    return builder


def lay_tape(builder: Builder, kind: str, points: Sequence[str]) -> None:
    """Take one reading more; by an unlucky hand it is a blunder too."""
    builder.tapes.append(builder.read(kind, points))


def _plan(vehicle: TrueVehicle, rng: np.random.Generator) -> list[tuple[str, tuple[str, ...]]]:
    names = list(vehicle.points)
    planned: list[tuple[str, tuple[str, ...]]] = [("height", (name,)) for name in names]
    if not vehicle.flat:
        planned += [("offset", (name,)) for name in names]
        # Along the frame from a datum, plumbed down to the floor; distances alone leave flat groups loose sideways.
        planned += [("ahead", (names[0], name)) for name in names[1:]]
    needed = (2 if vehicle.flat else 3) * len(names) - 1
    near: list[tuple[str, str]] = []
    for carried in vehicle.tables["bodies"].values():
        near += combinations(carried, 2)
    for table in ("bars", "springs"):
        near += [tuple(part["ends"]) for part in vehicle.tables[table].values()]
    near = [pair for pair in dict.fromkeys(near) if set(pair) <= set(names)]
    rng.shuffle(near)
    far = [pair for pair in combinations(names, 2) if pair not in near and pair[::-1] not in near]
    rng.shuffle(far)
    wanted = round((1 + _SPARE) * needed) - len(planned)
    return planned + [("between", pair) for pair in _evenly([near, far], names, max(wanted, 0))]


def _evenly(
    pools: Sequence[list[tuple[str, str]]], names: Sequence[str], wanted: int
) -> Iterator[tuple[str, str]]:
    """Pairs, those of one part first, so that no place hangs on fewer tapes than it must."""
    count = dict.fromkeys(names, 0)
    for pool in pools:
        left = [(str(a), str(b)) for a, b in pool]
        while left and wanted > 0:
            pair = min(left, key=lambda pair: (count[pair[0]] + count[pair[1]], left.index(pair)))
            left.remove(pair)
            wanted -= 1
            for name in pair:
                count[name] += 1
            yield pair


def _true(vehicle: TrueVehicle, kind: str, points: Sequence[str]) -> float:
    """What a perfect tape would read [mm]."""
    at = [vehicle.points[p] for p in points]
    if kind == "height":
        return float(at[0][-1]) / MM
    if kind == "offset":
        return float(at[0][1]) / MM
    if kind == "ahead":
        return float(at[1][0] - at[0][0]) / MM
    return float(np.linalg.norm(at[0] - at[1])) / MM


# --- the file ---------------------------------------------------------------------------------------------


def exact_file(vehicle: TrueVehicle) -> str:
    """The truth itself as a file, no tape in it, both sides alike: to compare solver with solver."""
    law = vehicle.law
    points = {name: _numbers(at) for name, at in vehicle.points.items()}
    shock = f"rate = {law.rate * MM!r}\npreload = {law.preload / MM!r}\n"
    lengths = f"length_open = {law.length_open / MM!r}\nlength_closed = {law.length_closed / MM!r}\n"
    wheel = f"load = {vehicle.load[vehicle.wheel]!r}\nunsprung = {vehicle.unsprung[vehicle.wheel]!r}\n"
    return "".join(_file(vehicle, points, shock + lengths, wheel))


def measured_file(builder: Builder) -> str:
    """What the builder writes down: sketch, tapes, bench readings, weighings. Only the tapes grow."""
    if not builder.written:
        builder.written = _all_but_tapes(builder)
    return builder.written + "".join(_tape(k, tape) for k, tape in enumerate(builder.tapes))


def _all_but_tapes(builder: Builder) -> str:
    vehicle, rng = builder.vehicle, builder.rng
    sketch = {
        name: f"{{ sketch = {_by_eye(at, rng)}{_alone(vehicle, name)} }}"
        for name, at in vehicle.points.items()
    }
    law = vehicle.law
    lengths = "".join(
        f'length_{name} = "{round(true / MM + rng.normal(0.0, _MARK))} ± {_MARK} mm"\n'
        for name, true in (("open", law.length_open), ("closed", law.length_closed))
    )
    unsprung = vehicle.unsprung[vehicle.wheel] + rng.normal(0.0, _UNSPRUNG)
    wheel = f'unsprung = "{unsprung:.1f} ± {_UNSPRUNG} kg"\n'
    head = f"tape_error = {builder.stated}\n"
    return "".join(_file(vehicle, sketch, lengths, wheel, head)) + _bench(builder) + _weighed(builder)


def _by_eye(at: Array, rng: np.random.Generator) -> str:
    """A place as sketched, to 10 mm; nobody sketches the left side on the right."""
    drawn = np.round(at / MM + rng.normal(0.0, _SKETCH, len(at)), -1)
    if len(at) == 3 and at[1] > 0.0:
        drawn[1] = max(drawn[1], 10.0)
    return _list([float(x) for x in drawn])


def _alone(vehicle: TrueVehicle, name: str) -> str:
    place = vehicle.tables["points"][name]
    return ", alone = true" if isinstance(place, dict) and place.get("alone") else ""


def _tape(k: int, tape: Reading) -> str:
    named = ", ".join(f'"{p}"' for p in tape.points)
    what = f"[{named}]" if len(tape.points) > 1 else named
    return f"[tape.t{k}]\n{tape.kind} = {what}\nreads = {tape.reads:g}\n"


def _bench(builder: Builder) -> str:
    """The shock squashed on the scale, in and out; forces in kilograms, as it shows them."""
    vehicle, rng = builder.vehicle, builder.rng
    law = vehicle.law
    stroke = (law.length_open - law.length_closed) / MM
    marks = [float(m) for m in np.arange(5, stroke - 2, 10)]
    true = [(m + rng.normal(0.0, _MARK)) * MM + law.preload for m in marks]
    rows = []
    for way in (1, -1):
        forces = [law.rate * squash + way * vehicle.friction for squash in true]
        rows.append([builder_scale(builder, force / GRAVITY) for force in forces])
    return (
        f"[bench.mine]\nmarks = {_list(marks)}\nin = {_list(rows[0])}\nout = {_list(rows[1])}\n"
        f"error = {builder.scale}\nmark_error = {_MARK}\n"
    )


def builder_scale(builder: Builder, mass: float) -> float:
    """What the bathroom scale shows of a mass [kg]."""
    shown = mass + builder.rng.normal(0.0, _SCALE)
    return round(round(shown / builder.rounds) * builder.rounds, 2)


def _weighed(builder: Builder) -> str:
    rows = [f"[scale]\nerror = {builder.scale}\n"]
    loads = dict(builder.vehicle.load)
    if not builder.vehicle.flat:
        loads.setdefault("wheel-right", loads["wheel-left"])  # the side that moves by itself is weighed too
    for wheel, load in loads.items():
        reads = [builder_scale(builder, load) for _ in range(_REPEATS)]
        rows.append(f"[weighed.{wheel}]\nreads = {_list(reads)}\n")
    return "".join(rows)


def _numbers(at: Array) -> str:
    return _list([round(float(x) / MM, 9) for x in at])


def _list(values: Sequence[float]) -> str:
    return (
        "[" + ", ".join(f"{value:g}" if value == round(value, 3) else repr(value) for value in values) + "]"
    )


def _file(
    vehicle: TrueVehicle, points: Mapping[str, str], shock: str, wheel: str, head: str = ""
) -> Iterator[str]:
    tables = vehicle.tables
    yield f'leverwright = 1\ntitle = "Invented in the garage"\npose = "on blocks"\n{head}'
    yield 'plane = "xz"\n' if vehicle.flat else "mirror = true\n"
    yield "[points]\n"
    for name, place in points.items():
        alone = _alone(vehicle, name) if place.startswith("[") else ""
        yield f"{name} = {{ at = {place}{alone} }}\n" if alone else f"{name} = {place}\n"
    yield "[bodies]\n"
    for name, carried in tables["bodies"].items():
        yield f"{name} = [{', '.join(chr(34) + p + chr(34) for p in carried)}]\n"
    for table in ("bars", "springs"):
        for name, part in tables[table].items():
            yield f'[{table}.{name}]\nends = ["{part["ends"][0]}", "{part["ends"][1]}"]\n'
            yield 'shock = "mine"\n' if table == "springs" else ""
    yield f"[shocks.mine]\n{shock}"
    for name, part in tables["wheels"].items():
        yield f'[wheels.{name}]\nbody = "{part["body"]}"\ncentre = "{part["centre"]}"\n'
        yield f"radius = {part['radius']}\n{wheel}"
