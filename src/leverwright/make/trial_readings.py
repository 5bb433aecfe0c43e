"""What a cardboard trial must read: each spring's length at bump, ride and droop, and its board."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import dist

import numpy as np

from leverwright.geometry import Array
from leverwright.linkage import Posed
from leverwright.make.outline import Spot
from leverwright.make.parts import Part
from leverwright.make.pivot_line import Hinge, hinge_of, plane_square_to
from leverwright.make.plates import FLAT_WITHIN, flat_parts
from leverwright.project import Project
from leverwright.ride import Cycle, Standing, Travels, pose_cycle
from leverwright.ride.places import points_of
from leverwright.study import Study

__all__ = ["Board", "Mark", "Reading", "SpringTrial", "Trial", "trial_of"]

# Springs whose lengths differ less read alike; a tape shows no less.
_ALIKE = 0.05e-3  # m
_PLACES = ("bump", "ride", "droop")


@dataclass(frozen=True, slots=True)
class Reading:
    """One pose of the trial.

    place    "bump", "ride" or "droop"
    travel   m, mean of the assembly's wheels, + up
    length   m, eye to eye, in space
    """

    place: str
    travel: float
    length: float


@dataclass(frozen=True, slots=True)
class Board:
    """The lever's plane at true scale: what is pinned, and where its link hole comes to lie.

    pivot_at     m, in the plane, the pivot at bump, ride, droop: one place where the chassis carries it
    eye_at       m, the spring's far end there
    link_at      m, the link hole there
    spring_at    m, the spring hole there
    up_dir       up (or front) in the set-up pose
    off_plane    m, how far the eye stands out of the lever's plane
    """

    part: Part
    link_hole: str
    spring_hole: str
    eye_name: str
    pivot_at: tuple[Spot, Spot, Spot]
    eye_at: tuple[Spot, Spot, Spot]
    link_at: tuple[Spot, Spot, Spot]
    spring_at: tuple[Spot, Spot, Spot]
    up_dir: Spot
    up_word: str
    off_plane: float

    @property
    def reads(self) -> tuple[float, ...]:
        """String from spring hole to eye in the plane, m, at bump, ride, droop."""
        return tuple(map(dist, self.spring_at, self.eye_at))

    @property
    def pivot_moves(self) -> bool:
        """Does a moving body carry the pivot? Then it has a mark for each place."""
        return _spread(self.pivot_at) > _ALIKE

    @property
    def eye_moves(self) -> bool:
        """Does a moving body carry the spring's far end?"""
        return _spread(self.eye_at) > _ALIKE


def _spread(spots: tuple[Spot, ...]) -> float:
    """Largest distance [m] from the first of them."""
    return max(dist(spots[0], spot) for spot in spots)


@dataclass(frozen=True, slots=True)
class SpringTrial:
    """A spring, or several that read alike, with their three readings; a board, or why there is none."""

    names: tuple[str, ...]
    ends: tuple[str, str]
    readings: tuple[Reading, ...]
    board: Board | None
    no_board: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on the board of a whole side: `pin` stays, the others are where a wheel is pushed to; m."""

    words: str
    at: Spot
    pin: bool


@dataclass(frozen=True, slots=True)
class Trial:
    """All springs with their readings.

    standing  ride is the standing position, else the set-up pose
    side      of a flat drawing: pins and wheel marks from the lowest and leftmost of them
    missing   why a spring has no readings
    """

    springs: tuple[SpringTrial, ...]
    standing: bool
    side: tuple[Mark, ...]
    missing: tuple[str, ...]


def trial_of(study: Study) -> Trial:
    """Readings of every spring between two points, those that read alike together."""
    found: list[SpringTrial] = []
    missing: list[str] = []
    standing = True
    side: tuple[Mark, ...] = ()
    for number, sprung in enumerate(study.assemblies):
        layout = sprung.assembly.layout
        names = [name for name in layout.line_names if name in study.project.springs]
        names = [name for name in names if study.project.springs[name].ends is not None]
        if not names:
            continue
        problem = _why_none(study, number)
        if problem:
            missing.append(f"{', '.join(names)}: {problem}.")
            continue
        poses, stands = _three_poses(study, number)
        standing = standing and stands
        side = side or _side(study.project, poses)
        found += [_spring_trial(study, name, poses, layout.line_names.index(name)) for name in names]
    return Trial(_alike_together(found), standing, side, tuple(missing))


def _why_none(study: Study, number: int) -> str:
    cycle, travels = study.heave[number], study.travels[number]
    if travels is None or travels.range is None or cycle.posed is None:
        return "the linkage cannot move with this spring fitted, so there is nothing to try"
    if not study.back_check[number].holds:
        return "its figures do not pass the back-check, so none is printed"
    return ""


@dataclass(frozen=True, slots=True)
class _Pose:
    """One pose: mean wheel travel, lengths of lines (S,), places of points."""

    travel: float
    lengths: Array
    places: dict[str, Array]


def _three_poses(study: Study, number: int) -> tuple[tuple[_Pose, _Pose, _Pose], bool]:
    """Bump, ride, droop; and whether ride is the standing position."""
    cycle, travels, standing = study.heave[number], study.travels[number], study.standing[number]
    assert cycle.posed is not None
    assert travels is not None
    ride, stands = _ride(cycle, travels, standing)
    return (
        _pose(travels, cycle.posed, -1),
        _pose(travels, ride, 0),
        _pose(travels, cycle.posed, 0),
    ), stands


def _ride(cycle: Cycle, travels: Travels, standing: Standing) -> tuple[Posed, bool]:
    """Where it stands; without that, the set-up pose or what is nearest to it."""
    if standing.posed is not None:
        return standing.posed, True
    assert travels.range is not None
    at = min(max(0.0, travels.range.droop.travel), travels.range.bump.travel)
    posed = pose_cycle(cycle.sprung, "heave", travels, np.array([at])).posed
    assert posed is not None
    return posed, False


def _pose(travels: Travels, posed: Posed, at: int) -> _Pose:
    places = {name: place[at] for name, place in points_of(travels.track, posed).items()}
    return _Pose(float(posed.pose.wheel_height[at].mean()), posed.length[at], places)


def _spring_trial(study: Study, name: str, poses: tuple[_Pose, _Pose, _Pose], column: int) -> SpringTrial:
    ends = study.project.springs[name].ends
    assert ends is not None
    readings = tuple(
        Reading(place, pose.travel, float(pose.lengths[column]))
        for place, pose in zip(_PLACES, poses, strict=True)
    )
    board = _board(study.project, ends, poses)
    return SpringTrial((name,), ends, readings, *((None, board) if isinstance(board, str) else (board,)))


def _side(project: Project, poses: tuple[_Pose, _Pose, _Pose]) -> tuple[Mark, ...]:
    """Pins on the chassis, then each wheel's centre at bump, ride and droop; none for a vehicle in space."""
    if project.plane is None:
        return ()
    axes = (0, 2) if project.plane == "xz" else (1, 2)
    fixed = set(project.bodies["chassis"].points) if "chassis" in project.bodies else set()

    def spot(pose: _Pose, name: str) -> Spot:
        return float(pose.places[name][axes[0]]), float(pose.places[name][axes[1]])

    marks = [Mark(name, spot(poses[1], name), pin=True) for name in poses[1].places if name in fixed]
    for wheel in project.wheels.values():
        if wheel.centre in poses[1].places:
            marks += [
                Mark(f"{wheel.centre} at {place}", spot(pose, wheel.centre), pin=False)
                for place, pose in zip(_PLACES, poses, strict=True)
            ]
    left, low = min(mark.at[0] for mark in marks), min(mark.at[1] for mark in marks)
    return tuple(replace(mark, at=(mark.at[0] - left, mark.at[1] - low)) for mark in marks)


def _board(project: Project, ends: tuple[str, str], poses: tuple[_Pose, _Pose, _Pose]) -> Board | str:
    """The board of the lever that the spring acts on, or why there is none."""
    why = "the spring acts on no lever that is one flat plate with a link hole"
    for part in flat_parts(project).parts:
        body = project.bodies.get(part.names[0])
        if body is None or part.kind != "plate":
            continue
        hole = next((end for end in ends if end in body.points), None)
        link = next((hole.points[0] for hole in part.holes if hole.role == "link"), None)
        eye = ends[1] if ends[0] == hole else ends[0]
        hinge = hinge_of(project, body)
        if hole is None or link is None or hinge is None:
            continue
        lever = _Lever(part, hinge, link, hole, eye)
        if _out_of_plane(lever, poses) <= FLAT_WITHIN:
            return _board_in_plane(lever, poses)
        why = (
            f"{hinge.other} carries the pivot of {body.name} and tips it out of its plane as the wheel moves"
        )
    return why


@dataclass(frozen=True, slots=True)
class _Lever:
    """A lever plate with the names of its link hole, its spring hole and the eye across."""

    part: Part
    hinge: Hinge
    link: str
    hole: str
    eye: str


def _out_of_plane(lever: _Lever, poses: tuple[_Pose, _Pose, _Pose]) -> float:
    """How far [m] the lever's holes leave, over the three poses, the plane that each lies in when it rides."""
    names = (lever.hinge.points[0], lever.link, lever.hole)
    along = np.array([[pose.places[name] @ lever.hinge.dir for name in names] for pose in poses])
    return float(np.abs(along - along[1]).max())


def _board_in_plane(lever: _Lever, poses: tuple[_Pose, _Pose, _Pose]) -> Board:
    e1, e2, axis = plane_square_to(lever.hinge.dir)
    ride = poses[1]
    origin = ride.places[lever.hinge.points[0]]

    def at(name: str) -> tuple[Spot, Spot, Spot]:
        bump, stands, droop = (pose.places[name] - origin for pose in poses)
        return _in_plane(bump, e1, e2), _in_plane(stands, e1, e2), _in_plane(droop, e1, e2)

    return Board(
        part=lever.part,
        link_hole=lever.link,
        spring_hole=lever.hole,
        eye_name=lever.eye,
        pivot_at=at(lever.hinge.points[0]),
        eye_at=at(lever.eye),
        link_at=at(lever.link),
        spring_at=at(lever.hole),
        up_dir=(0.0, 1.0),
        up_word=lever.part.up_word,
        off_plane=abs(float((ride.places[lever.eye] - ride.places[lever.hole]) @ axis)),
    )


def _in_plane(step: Array, e1: Array, e2: Array) -> Spot:
    return float(step @ e1), float(step @ e2)


def _alike_together(found: list[SpringTrial]) -> tuple[SpringTrial, ...]:
    """Springs whose three lengths agree, under the first one's board."""
    groups: list[SpringTrial] = []
    for one in found:
        for k, group in enumerate(groups):
            pairs = zip(one.readings, group.readings, strict=True)
            if all(
                abs(a.length - b.length) <= _ALIKE and abs(a.travel - b.travel) <= _ALIKE for a, b in pairs
            ):
                groups[k] = replace(group, names=(*group.names, *one.names))
                break
        else:
            groups.append(one)
    return tuple(groups)
