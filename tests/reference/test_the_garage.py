"""The virtual garage: its truth against the rigid engine, and a small run of it whose outcome is bounded.

The bounds are loose enough for chance with a dozen vehicles, and tight enough that a ± half or twice as large fails.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from benchmarks.garage import BIG, INSIDE, Visit, visit
from benchmarks.garage_truth import GRAVITY, NobodyWouldBuildError, Truth, truth_of
from benchmarks.garage_vehicles import KINDS, TrueVehicle, draw_vehicle
from tests.reference.differences import rate_matrix
from tests.reference.rigid_engine import RigidEngine

SEED, VEHICLES = 3, 12


def drawn(kind: str) -> tuple[TrueVehicle, Truth]:
    rng = np.random.default_rng([11, KINDS.index(kind)])
    while True:
        vehicle = draw_vehicle(kind, rng)
        try:
            return vehicle, truth_of(vehicle)
        except (NobodyWouldBuildError, ArithmeticError):
            continue


@pytest.mark.parametrize("kind", KINDS)
def test_the_truth_is_the_rigid_engines(kind):
    """Where it stands the engine's ground forces carry the load, and its ratio and rate are the truth's."""
    vehicle, truth = drawn(kind)
    engine = RigidEngine(vehicle.assembly)
    travel = dict(zip(vehicle.load, truth.heights, strict=True))
    force, ratios = engine.pose(travel).wheel_forces, engine.ratios(travel)
    for wheel in travel:
        stuck = sum(vehicle.stuck[s] * vehicle.friction * ratios[s][wheel] for s in ratios)
        weight = (vehicle.load[wheel] - vehicle.unsprung[wheel]) * GRAVITY
        assert force[wheel] + stuck == pytest.approx(weight, abs=1e-3)  # N; a beam axle's polynomial
    spring = next(iter(vehicle.assembly.springs))
    assert sum(ratios[spring].values()) == pytest.approx(truth.ratio, rel=1e-6)
    rate = sum(rate_matrix(engine, travel)[vehicle.wheel].values())
    sprung = vehicle.load[vehicle.wheel] - vehicle.unsprung[vehicle.wheel]
    assert math.sqrt(rate / sprung) / (2 * math.pi) == pytest.approx(truth.frequency, rel=1e-5)


@pytest.fixture(scope="module")
def visits() -> list[Visit]:
    return [visit(SEED, number) for number in range(VEHICLES)]


def test_every_vehicle_is_answered(visits):
    assert [v.refused for v in visits if v.refused] == []
    assert sum(len(v.answers) for v in visits) >= 3 * VEHICLES


def test_the_truth_lies_inside_what_is_stated_as_often_as_it_should(visits):
    """Of some 45 answers 5 % lie outside: 2.3; over 7 would be chance once in two hundred."""
    off = np.array([answer.off for v in visits for answer in v.answers])
    assert (np.abs(off) > INSIDE).sum() <= 7
    # Root mean square 1, known to 0.15 or so: answers of one vehicle go together.
    assert 0.6 < math.sqrt(float(np.mean(off**2))) < 1.5


def test_most_large_blunders_are_caught(visits):
    """Readings off by over 5 standard deviations; the goal of 95 % needs hundreds to be judged."""
    assert BIG == 5.0
    more = [when for v in visits for when in v.blunders]
    assert len(more) >= 3
    assert sum(when is not None for when in more) >= 0.7 * len(more)
    assert sum(v.accused for v in visits) <= 0.02 * sum(v.tapes for v in visits)
