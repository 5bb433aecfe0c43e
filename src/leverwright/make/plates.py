"""Which bodies and bars of a vehicle can be cut from flat plate, and which cannot and why."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import dist

from leverwright.make.choices import Choices, MakeError
from leverwright.make.numbers import in_millimetres
from leverwright.make.parts import SAME_PART, Blueprint, LeftOut, Part, RawHole, Role, Span, lay_out
from leverwright.make.pivot_line import (
    ONE_HOLE,
    Hinge,
    facing_of,
    hinge_of,
    off_line,
    place_of,
    plane_square_to,
    station_of,
    up_in_plane,
)
from leverwright.make.twins import (
    bar_goes_with_original,
    bar_length,
    goes_with_original,
    same_bars,
    same_bodies,
    twin_notes,
)
from leverwright.project import Bar, Body, Project
from leverwright.quantity import quoted

__all__ = ["FLAT_WITHIN", "Parts", "flat_parts"]

_MM = 1e-3
# Holes of one plate lie in its plane; a tape reads no finer (common practice).
FLAT_WITHIN = 1.0 * _MM  # m
# Longer than this a tape places the holes better than paper joined from several sheets (common practice).
LONGEST_PART = 600 * _MM  # m
# More holes than this are no lever, and their outline would take seconds.
_MOST_HOLES = 16
_SPANS_SHOWN = 10
_MOST_PARTS = 40
_MOST_MOVING = 200

_End = tuple[str, Role]  # a point, and what its hole carries


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything of a vehicle that moves: cut from flat plate, or said why not."""

    parts: tuple[Part, ...]
    left_out: tuple[LeftOut, ...]


def flat_parts(project: Project, choices: Choices | None = None) -> Parts:
    """Plates first, then links, in file order; a twin of the same shape is cut with its original."""
    choices = choices or Choices()
    _refuse_unknown_holes(project, choices)
    _refuse_too_many(len(project.bodies) + len(project.bars), _MOST_MOVING, "bodies and bars")
    bodies = [body for name, body in project.bodies.items() if name != "chassis"]
    made = [
        *(_plate(project, body, choices) for body in bodies if not goes_with_original(project, body)),
        *(
            _link(project, bar, choices)
            for bar in project.bars.values()
            if not bar_goes_with_original(project, bar)
        ),
    ]
    parts = tuple(one for one in made if isinstance(one, Part))
    _refuse_too_many(len(parts), _MOST_PARTS, "flat parts")
    return Parts(parts, tuple(one for one in made if isinstance(one, LeftOut)))


def _refuse_unknown_holes(project: Project, choices: Choices) -> None:
    for name in choices.holes:
        if name not in project.points:
            raise MakeError(
                found=f"a hole diameter for {quoted(name)}, which is not a point",
                allowed="names from [points]",
                do="use the name of the point that the hole is drilled at",
            )


def _refuse_too_many(count: int, most: int, what: str) -> None:
    if count > most:
        raise MakeError(
            found=f"{count} {what}",
            allowed=f"{most} in one set of sheets",
            do="make the sheets from a file of one corner or one axle",
        )


# --- plates -----------------------------------------------------------------------------------------------


def _plate(project: Project, body: Body, choices: Choices) -> Part | LeftOut:
    """The body as one flat plate, or the sentence that says why it is none."""
    carries = [wheel.name for wheel in project.wheels.values() if wheel.body == body.name]
    if carries:
        return _left_out(
            project, body, f"carries {_wheel(carries[0])}: it is built up, not cut from one plate"
        )
    if len(body.points) > _MOST_HOLES:
        return _left_out(
            project, body, f"has {len(body.points)} points; a plate is drawn with up to {_MOST_HOLES}"
        )
    hinge = hinge_of(project, body)
    if len(body.points) == 2 and (hinge is None or project.plane is not None):
        return _link_body(project, body, choices, hinge)
    if hinge is None:
        return _left_out(project, body, "turns on no pivot line, so no plane is square to one")
    arms = [name for name in body.points if off_line(project, hinge, name) > ONE_HOLE]
    problem = _why_no_plate(project, hinge, arms)
    if problem:
        return _left_out(project, body, problem)
    return _cut_plate(project, body, choices, (hinge, arms))


def _wheel(name: str) -> str:
    """The wheel by its name, told once where the name says wheel itself."""
    return "the wheel" if name == "wheel" else name if name.startswith("wheel-") else f"the wheel {name}"


def _why_no_plate(project: Project, hinge: Hinge, arms: list[str]) -> str:
    """What forbids a flat plate, as the end of a sentence; empty when nothing does."""
    if len(arms) < 2:
        return "has fewer than two holes off its pivot line: an arm, not a lever plate"
    wheel_bodies = {wheel.body for wheel in project.wheels.values()} - {hinge.other}
    for name in arms:
        shares = [other for other in wheel_bodies if name in project.bodies[other].points]
        if shares:
            return f"holds {shares[0]} at {name}: an arm that carries a wheel, built up and not cut from one plate"
    stations = [station_of(project, hinge, name) for name in arms]
    apart = max(stations) - min(stations)
    if apart > FLAT_WITHIN:
        return (
            f"is not flat: its holes stand {in_millimetres(apart)} apart along the pivot line "
            f"({in_millimetres(FLAT_WITHIN)} is taken as flat)"
        )
    reach = max(dist(project.points[a].at, project.points[b].at) for a in arms for b in arms)
    reach = max(reach, *(off_line(project, hinge, name) for name in arms))
    if reach > LONGEST_PART:
        return f"is {in_millimetres(reach)} long: set it out by tape (templates go to {in_millimetres(LONGEST_PART)})"
    return ""


def _cut_plate(project: Project, body: Body, choices: Choices, on: tuple[Hinge, list[str]]) -> Part:
    hinge, arms = on
    e1, e2, axis = plane_square_to(hinge.dir)
    raw = [RawHole(hinge.points, "pivot", (0.0, 0.0))]
    for name in arms:
        from_line = place_of(project, name) - hinge.at
        spot = (float(from_line @ e1), float(from_line @ e2))
        raw.append(RawHole((name,), _role(project, name), spot))
    up_dir, up_word = up_in_plane(e2)
    twin = same_bodies(project, body)
    return lay_out(
        Blueprint(
            kind="plate",
            names=(body.name, *twin),
            up_dir=up_dir,
            up_word=up_word,
            facing=facing_of(axis),
            notes=(*_station_notes(project, hinge, arms), *twin_notes(project, body, twin)),
        ),
        tuple(raw),
        choices,
    )


def _station_notes(project: Project, hinge: Hinge, arms: list[str]) -> tuple[str, ...]:
    """Where on the pivot tube the plate stands, and how flat the drawn holes are."""
    if len(hinge.points) < 2:
        return ()
    stations = [station_of(project, hinge, name) for name in arms]
    notes = []
    first, last = hinge.points[0], hinge.points[-1]
    middle = (min(stations) + max(stations)) / 2 - station_of(project, hinge, first)
    tube = station_of(project, hinge, last) - station_of(project, hinge, first)
    away = "towards" if middle * tube >= 0 else "away from"
    notes.append(
        f"Middle of the plate: {in_millimetres(abs(middle))} from {first}, {away} {last}; "
        f"{first} to {last} {in_millimetres(abs(tube))}."
    )
    apart = max(stations) - min(stations)
    if apart > SAME_PART:
        notes.append(
            f"The drawn holes stand {in_millimetres(apart)} out of one plane; the plate takes them as flat."
        )
    return tuple(notes)


def _role(project: Project, name: str) -> Role:
    """What a hole carries; the first of link, spring, strap that ends there."""
    if any(name in bar.ends for bar in project.bars.values()):
        return "link"
    if any(spring.ends and name in spring.ends for spring in project.springs.values()):
        return "spring"
    if any(name in strap.ends for strap in project.straps.values()):
        return "strap"
    return "hole"


# --- links ------------------------------------------------------------------------------------------------


def _link(project: Project, bar: Bar, choices: Choices) -> Part | LeftOut:
    """The bar as a flat bar with two holes; one with threads as its setting gauge."""
    drawn = dist(project.points[bar.ends[0]].at, project.points[bar.ends[1]].at)
    length = bar_length(project, bar)
    notes = []
    if abs(length - drawn) > SAME_PART:
        notes.append(
            f"Set to {in_millimetres(length)}; in the set-up pose its holes are {in_millimetres(drawn)} apart."
        )
    if bar.adjust is not None:
        low, high = length + bar.adjust[0], length + bar.adjust[1]
        reach = f"{in_millimetres(low)} to {in_millimetres(high)}"
        notes.append(f"The link itself has threads, {reach} hole to hole: this bar sets it.")
    if project.plane is None:
        notes.append(
            "Both ends swivel as ball joints: with rod ends, use this bar as the gauge that sets them."
        )
    twin = same_bars(project, bar)
    blueprint = Blueprint(
        kind="link", names=(bar.name, *twin), notes=tuple(notes), gauge=bar.adjust is not None
    )
    return _two_holes(blueprint, ((bar.ends[0], "link"), (bar.ends[1], "link")), length, choices)


def _link_body(project: Project, body: Body, choices: Choices, hinge: Hinge | None) -> Part | LeftOut:
    """A body of two points: a link, or a plain arm whose first hole is then its pivot."""
    ends = body.points
    if hinge is not None and ends[1] in hinge.points:
        ends = ends[::-1]
    length = dist(project.points[ends[0]].at, project.points[ends[1]].at)
    blueprint = Blueprint(kind="link", names=(body.name, *same_bodies(project, body)))
    first: Role = "link" if hinge is None else "pivot"
    return _two_holes(blueprint, ((ends[0], first), (ends[1], "link")), length, choices)


def _two_holes(
    blueprint: Blueprint, ends: tuple[_End, _End], length: float, choices: Choices
) -> Part | LeftOut:
    (first, first_role), (last, last_role) = ends
    span = (Span(first, last, length),)
    name = blueprint.names[0]
    if length > LONGEST_PART:
        far = in_millimetres(length)
        sentence = (
            f"{name} is {far} hole to hole: set it by tape (templates go to {in_millimetres(LONGEST_PART)})."
        )
        return LeftOut(name, sentence, span)
    if length <= ONE_HOLE:
        return LeftOut(name, f"{name} has both holes in one place ({in_millimetres(length)} apart).", span)
    raw = (RawHole((first,), first_role, (0.0, 0.0)), RawHole((last,), last_role, (length, 0.0)))
    return lay_out(blueprint, raw, choices)


# --- what is left out ---------------------------------------------------------------------------------------


def _left_out(project: Project, body: Body, why: str) -> LeftOut:
    """The sentence, with the straight distances from the body's first points to its others."""
    shown = body.points[:_MOST_HOLES]
    pairs = list(combinations(shown, 2))[:_SPANS_SHOWN]
    measured = tuple(Span(a, b, dist(project.points[a].at, project.points[b].at)) for a, b in pairs)
    twins = same_bodies(project, body)
    who = f"{body.name} (and {', '.join(twins)})" if twins else body.name
    return LeftOut(body.name, f"{who} {why}.", measured)
