"""The solver beside SciPy's general root finder, which solves the same closure equations pose by pose."""

import numpy as np

from benchmarks.clock import Row, side_by_side
from leverwright import Project, Study
from leverwright.linkage import Stop, posed_from
from leverwright.linkage.kinematics import State
from leverwright.ride import SprungAssembly, Travels, cycle_assembly, find_travels
from tests.reference.root_by_pose import RootByPose
from tests.reference.vehicle import VEHICLES, read

__all__ = ["beam_axle", "wishbone_corner"]

POSES = 41
GRID = 21


def _assembly(name: str) -> SprungAssembly:
    (assembly,) = Study(Project.read(VEHICLES / f"{name}.toml")).assemblies
    return assembly


def _travels(assembly: SprungAssembly, half: float) -> Travels:
    travels = find_travels(
        assembly, "heave", (-half, half), (Stop(-half, "asked"), Stop(half, "asked")), look=0.0
    )
    if travels is None or travels.range is None:
        raise RuntimeError("the reference vehicle does not move")
    return travels


def wishbone_corner() -> Row:
    """41 poses from the set-up pose on: way walked, positions, ratio and its slope, all forces."""
    assembly = _assembly("wishbone-corner")
    half = 0.030  # m
    travel = np.linspace(-half, half, POSES)
    witness = RootByPose(read("wishbone-corner"))

    def ours() -> object:
        return cycle_assembly(assembly, "heave", _travels(assembly, half), POSES)

    def theirs() -> object:
        # From the set-up pose outwards, as a careful user would; `solve` raises where root does not close.
        return [witness.sweep(list(way)) for way in (travel[POSES // 2 :], travel[POSES // 2 :: -1])]

    took, reference = side_by_side(ours, theirs, rounds=9, inner=5)
    return Row(
        f"wishbone corner with rocker, {POSES} poses: positions, ratio, slope, forces",
        took, 3e-3, "SciPy root pose by pose, positions only", reference, least_ratio=20,
    )  # fmt: skip


def beam_axle() -> Row:
    """A grid of heave and roll of a beam axle with two rockers, with ratios and slopes at each pose."""
    assembly = _assembly("beam-axle")
    half, tilt = 0.020, 0.020  # m
    heave, roll = np.meshgrid(np.linspace(-half, half, GRID), np.linspace(-tilt, tilt, GRID), indexing="ij")
    heights = np.stack([(heave + roll).ravel(), (heave - roll).ravel()], axis=1)
    witness = RootByPose(read("beam-axle"))
    wheels = list(witness.vehicle.wheels)

    def ours() -> object:
        travels = _travels(assembly, half)
        along = cycle_assembly(assembly, "heave", travels, GRID).posed
        if along is None:
            raise RuntimeError("the beam axle does not move")
        near = State(along.state.rotation.repeat(GRID, axis=0), along.state.offset.repeat(GRID, axis=0))
        posed = posed_from(assembly.assembly, travels.track, travels.driving, heights, near)
        if posed is None:
            raise RuntimeError("a pose of the grid does not close")
        return posed

    def theirs() -> object:
        return [witness.solve(dict(zip(wheels, map(float, row), strict=True))) for row in heights]

    took, reference = side_by_side(ours, theirs, rounds=3, inner=5)
    return Row(
        f"beam axle with two rockers, {GRID} × {GRID} heave and roll: positions, ratios, slopes",
        took, 25e-3, "SciPy root pose by pose, positions only", reference, least_ratio=20,
    )  # fmt: skip
