"""The product's answers for one project text, by its public `Study`, as plain dictionaries in SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from leverwright import Project, Study
from leverwright.linkage import joint_points
from leverwright.ride import Cycle
from tests.reference.vehicle import Array

By = dict[str, float]


@dataclass(frozen=True, slots=True)
class Said:
    """What the product says of one pose: the same figures as the witnesses give."""

    travel: By
    points: dict[str, Array]
    lengths: By
    pushes: By
    ratios: dict[str, By]
    slopes: dict[str, dict[str, By]]
    tensions: By
    joints: dict[str, Array]
    wheel_forces: By
    rates: dict[str, By]


def study_of(text: str, hold: Mapping[str, float] | None = None) -> Study:
    """The study of a project text."""
    return Study(Project.from_text(text, name="reference.toml"), hold)


def poses_of(
    study: Study, ends: tuple[float, float], poses: int, mode: str = "heave", assembly: int = 0
) -> list[Said]:
    """What the product says at `poses` equally spaced travels [m] between `ends`."""
    cycle = study.cycle(mode, ends, poses)[assembly]
    if cycle.posed is None:
        raise AssertionError("the product finds no motion")
    return [_said(study, cycle, index) for index in range(len(cycle.posed.travel))]


def _in_plane(study: Study, xyz: Array) -> Array:
    axes = {None: [0, 1, 2], "xz": [0, 2], "yz": [1, 2]}[study.project.plane]
    return xyz[axes]


def _said(study: Study, cycle: Cycle, at: int) -> Said:
    layout = cycle.sprung.assembly.layout
    posed, springs, forces = cycle.posed, cycle.springs, cycle.forces
    assert posed is not None
    assert springs is not None
    assert forces is not None
    wheels, lines = layout.wheel_names, layout.line_names
    drivers = wheels if posed.rates.ds_dz.shape[2] == len(wheels) else wheels[:1]
    names = layout.mechanism.point_names
    places: dict[str, Array] = {}
    for index, carrier in enumerate(layout.carriers.each):
        for point in carrier.points:
            moved = posed.state.rotation[at, index] @ layout.mechanism.points[point]
            places[names[point]] = _in_plane(study, moved + posed.state.offset[at, index])
    bars = [p for p in enumerate(layout.bars) if p[1].kind == "bar"]
    return Said(
        travel={w: float(z) for w, z in zip(wheels, posed.pose.wheel_height[at], strict=True)},
        points=places,
        lengths=dict(zip(lines, posed.length[at].tolist(), strict=True)),
        pushes=dict(zip(lines, springs.push[at].tolist(), strict=True)),
        ratios={
            s: dict(zip(drivers, posed.rates.ds_dz[at, i].tolist(), strict=True)) for i, s in enumerate(lines)
        },
        slopes={
            s: {
                w: dict(zip(drivers, posed.rates.d2s_dz2[at, i, j].tolist(), strict=True))
                for j, w in enumerate(drivers)
            }
            for i, s in enumerate(lines)
        },
        tensions={layout.mechanism.bars[p.item].name: float(forces.bar_tension[at, i]) for i, p in bars},
        joints={
            names[point]: _in_plane(study, forces.joint_force[at, i])
            for i, point in enumerate(joint_points(layout))
        },
        wheel_forces=dict(zip(wheels, forces.wheel_force[at].tolist(), strict=True)),
        rates={
            w: dict(zip(drivers, springs.wheel_rate[at, i].tolist(), strict=True))
            for i, w in enumerate(drivers)
        },
    )


def stops_of(study: Study, mode: str = "heave", assembly: int = 0) -> tuple[float, str, float, str]:
    """Where the product's travel ends [m] and why: droop, then bump, of the linkage and its shocks."""
    travels = study.cycle(mode)[assembly].travels
    assert travels is not None
    assert travels.range is not None
    droop, bump = travels.range.droop, travels.range.bump
    return float(np.float64(droop.travel)), droop.why, float(np.float64(bump.travel)), bump.why


def transmission_of(study: Study, travel: float, assembly: int = 0) -> float:
    """The one transmission angle [rad] of an assembly with its wheel at `travel` [m]."""
    ends = (min(travel, 0.0), max(travel, 0.0))
    posed = study.cycle("heave", ends, 2)[assembly].posed
    assert posed is not None
    (angle,) = posed.transmission[1 if travel > 0 else 0]
    return float(angle)
