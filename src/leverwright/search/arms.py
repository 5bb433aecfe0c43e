"""Changes of a lever's arms: swapped, equal, one hole moved along or about its arm, the spring across."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np

from leverwright.geometry import Array, rigid_motion, unit
from leverwright.linkage import Lever
from leverwright.project import Project
from leverwright.search.edits import Ops, move_point

__all__ = ["arms_set", "hole_turned", "spring_across"]


def _place(project: Project, point: str) -> Array:
    return np.array(project.points[point].at)


def arms_set(project: Project, lever: Lever, link_arm: float, spring_arm: float) -> Ops:
    """Put both holes at new distances [m] from the pivot along their own arms.

    The spring's far eye moves as its hole does, so that the spring keeps its length and direction; the link's
    other end stays and the link takes the length that it then needs.
    """
    link, spring, eye = (_place(project, p) for p in (lever.link_hole, lever.spring_hole, lever.far_eye))
    new_link = lever.link_foot + unit(link - lever.link_foot) * link_arm
    new_spring = lever.spring_foot + unit(spring - lever.spring_foot) * spring_arm
    ops: list[Mapping[str, object]] = []
    if abs(link_arm - lever.link_arm) > 1e-6:
        ops.append(move_point(project, lever.link_hole, new_link))
    if abs(spring_arm - lever.spring_arm) > 1e-6:
        ops.append(move_point(project, lever.spring_hole, new_spring))
        ops.append(move_point(project, lever.far_eye, eye + new_spring - spring))
    return tuple(ops)


def hole_turned(
    project: Project, lever: Lever, which: Literal["link", "spring"], angle: float, axis: Array
) -> Ops:
    """Put one hole at the same arm but turned by `angle` [rad] about the lever's hinge direction `axis` (3,)."""
    hole, foot = (
        (lever.link_hole, lever.link_foot) if which == "link" else (lever.spring_hole, lever.spring_foot)
    )
    rotation, _ = rigid_motion(axis * angle, np.zeros(3))
    place = foot + rotation @ (_place(project, hole) - foot)
    ops = [move_point(project, hole, place)]
    if which == "spring":
        ops.append(
            move_point(project, lever.far_eye, _place(project, lever.far_eye) + place - _place(project, hole))
        )
    return tuple(ops)


def spring_across(project: Project, lever: Lever) -> Ops:
    """Put the spring's hole on the other side of the pivot at the same arm, its far eye moved alike."""
    hole = _place(project, lever.spring_hole)
    place = 2.0 * lever.spring_foot - hole
    eye = _place(project, lever.far_eye) + place - hole
    return (move_point(project, lever.spring_hole, place), move_point(project, lever.far_eye, eye))
