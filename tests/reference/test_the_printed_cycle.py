"""`cycle --json` as a process of its own, in the contract's units, against the rigid engine."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

from tests.reference.differences import rate_matrix, ratio_slopes
from tests.reference.rigid_engine import RigidEngine
from tests.reference.vehicle import VEHICLES, read

MM = 1e-3  # m
HELD = {"steered-corner": ("steer", 20.0)}  # mm


def printed(name: str, mode: str, hold: tuple[str, float] | None) -> dict[str, Any]:
    command = [sys.executable, "-m", "leverwright", "cycle", str(VEHICLES / f"{name}.toml"), "--json"]
    command += ["--mode", mode, "--from", "-20", "--to", "25", "--poses", "4"]
    command += [] if hold is None else ["--hold", f"{hold[0]}={hold[1]}"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.isascii()
    document: dict[str, Any] = json.loads(done.stdout)
    return document


@pytest.mark.parametrize(
    ("name", "mode"),
    [
        ("flat-four-bar", "heave"),
        ("wishbone-corner", "wheel"),
        ("beam-axle", "roll"),
        ("swing-arm", "heave"),
        ("steered-corner", "heave"),
    ],
)
def test_every_figure_of_the_document(name, mode):
    vehicle = read(name)
    engine = RigidEngine(vehicle)
    hold = HELD.get(name)
    led = None if hold is None else {hold[0]: hold[1] * MM}
    (assembly,) = printed(name, mode, hold)["assemblies"]
    assert assembly["wheels"] == list(vehicle.wheels)
    assert assembly["freedoms"] == len(vehicle.wheels)
    assert (assembly["play"], assembly["bind"]) == ([], [])
    assert {stop["why"] for stop in assembly["stops"].values()} == {"asked"}
    assert len(assembly["poses"]) == 4
    for pose in assembly["poses"]:
        travel = {wheel: z * MM for wheel, z in pose["travel_mm"].items()}
        found, ratios = engine.pose(travel, led), engine.ratios(travel, led)
        slopes, rates = ratio_slopes(engine, travel, led), rate_matrix(engine, travel, led)
        for point, at in found.points.items():
            assert pose["points_mm"][point] == pytest.approx(at / MM, abs=1e-6), point
        for spring, said in pose["springs"].items():
            law = vehicle.laws[spring]
            assert said["length_mm"] == pytest.approx(found.lengths[spring] / MM, abs=1e-6)
            shortened = law.length_open - found.lengths[spring]  # from fully open, as tables are
            assert said["compression_mm"] == pytest.approx(shortened / MM, abs=1e-6)
            assert said["force_n"] == pytest.approx(found.pushes[spring], abs=1e-6)
            assert said["ratio"] == pytest.approx(ratios[spring], rel=1e-8)
            for wheel, by_other in said["ratio_slope_per_mm"].items():
                expected = {other: s * MM for other, s in slopes[spring][wheel].items()}
                assert by_other == pytest.approx(expected, rel=1e-6, abs=1e-8)
        for wheel, said in pose["wheels"].items():
            assert said["force_n"] == pytest.approx(found.wheel_forces[wheel], abs=1e-6)
            assert said["rate_n_per_mm"] == pytest.approx(rates[wheel][wheel] * MM, rel=1e-6)
            assert pose["rate_matrix_n_per_mm"][wheel] == pytest.approx(
                {other: k * MM for other, k in rates[wheel].items()}, rel=1e-6
            )
        assert pose["bars_n"] == pytest.approx(found.tensions, abs=1e-6)
        assert pose["joints_n"].keys() == found.joints.keys()
        for point, force in found.joints.items():
            assert pose["joints_n"][point] == pytest.approx(force, abs=1e-6), point
