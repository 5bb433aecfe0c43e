"""What one further reading would do, against taking it: solved again with the reading in."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.measure.network import solve_network
from leverwright.measure.observations import Distance, Term, Weighted
from leverwright.project.measuring import Tape
from leverwright.quantity import Quantity
from leverwright.ride.next_measurement import Cared, Spots, best_readings, candidates_of
from tests.measure.taped import SIGMA, taped

CART = Path(__file__).parents[2] / "examples" / "taped-milk-cart.toml"


def spots_of(result):
    count = len(result.places)
    pairs = np.zeros((count, count), dtype=bool)
    for d in result.network.distances:
        pairs[d.ends] = pairs[d.ends[::-1]] = True
    read = {(w.kind, w.terms[0].point) for w in result.network.weighted}
    return Spots(
        result.places,
        result.covariance,
        result.floor_with,
        result.floor_variance,
        pairs,
        np.ones(count, dtype=bool),
        np.array([("height", p) not in read for p in range(count)]),
        np.array([("offset", p) not in read for p in range(count)]),
    )


def with_reading(tapes, result, kind, points):
    """The network with what the reading is expected to say."""
    if kind == "between":
        length = float(np.linalg.norm(result.places[points[0]] - result.places[points[1]]))
        taped = Distance("more", (points[0], points[1]), length, SIGMA)
        return replace(tapes, distances=(*tapes.distances, taped))
    axis = 2 if kind == "height" else 1
    level = result.floor if kind == "height" else 0.0
    reads = float(result.places[points[0], axis]) - level
    more = Weighted("more", kind, (Term(points[0], axis),), reads, SIGMA, float(kind == "height"))
    return replace(tapes, weighted=(*tapes.weighted, more))


def test_each_expected_spread_is_that_of_the_network_with_the_reading_in():
    tapes = taped(12)
    result = solve_network(tapes)
    draw = np.random.default_rng(8)
    slope = draw.normal(size=(3, 1, 8, 3))
    slope[..., [0, 2]] -= slope[..., [0, 2]].mean(axis=2, keepdims=True)  # no answer asks where it all lies

    def spread(of):
        return np.sqrt(np.einsum("agni,nimk,agmk->a", slope, of.covariance, slope))

    names = (("w", "a"), ("w", "b"), ("w", "c"))
    cared = Cared(names, slope, spread(result), np.array([1.0, 2.0, 0.5]) * 1e-3)
    readings = best_readings(spots_of(result), cared, SIGMA, most=1000)
    assert {r.kind for r in readings} == {"between", "height", "offset"}
    assert len(readings) == 6 + 4 + 5  # pairs of holes, points without a height, without an offset
    for reading in readings:
        again = spread(solve_network(with_reading(tapes, result, reading.kind, reading.points)))
        assert [reading.after[name] for name in names] == pytest.approx(list(again), rel=1e-5)
        assert [reading.before[name] for name in names] == pytest.approx(list(spread(result)), rel=1e-12)
    gains = [reading.gain for reading in readings]
    assert gains == sorted(gains, reverse=True)
    assert gains[0] > 0.0


def test_the_best_tape_for_the_cart_makes_its_answers_as_certain_as_was_reckoned():
    cart = Study(Project.read(CART))
    result = cart.measured.tapes.network
    best = next(r for r in cart.next_measurement if r.kind == "between")
    names = [result.network.names[p] for p in best.points]
    length = float(np.linalg.norm(result.places[best.points[0]] - result.places[best.points[1]]))
    tape = Tape("more", "between", tuple(names), (Quantity(length, None, "length"),), 1e-3, None, 1)
    more = Study(replace(cart.file, tape={**cart.file.tape, "more": tape}))
    for (wheel, name), expected in best.after.items():
        of = more.answers[wheel]
        error = (
            of.of[name].error if name in of.of else of.motion_ratio[name.removeprefix("motion_ratio ")].error
        )
        assert error == pytest.approx(expected, rel=2e-2), (
            name
        )  # the places move a little, and slopes with them
        assert error is not None
        assert error < best.before[wheel, name]


def test_what_nothing_places_comes_first():
    project = Project.read(CART)
    few = {
        n: t
        for n, t in project.tape.items()
        if n not in {"dot-c-to-hub", "dot-d-to-hub", "hub-height", "hub-across"}
    }
    first = Study(replace(project, tape=few)).next_measurement[0]
    names = Study(project).measured.tapes.network.network.names
    assert first.opens
    assert "hub-left" in {names[p] for p in first.points}


def test_forty_points_are_looked_through_in_a_second():
    draw = np.random.default_rng(1)
    count = 40
    root = draw.normal(size=(3 * count, 3 * count)) * 1e-3
    covariance = (root @ root.T).reshape(count, 3, count, 3)
    no, yes = np.zeros(count, dtype=bool), np.ones(count, dtype=bool)
    pairs = np.zeros((count, count), dtype=bool)
    spots = Spots(
        0.4 * draw.normal(size=(count, 3)), covariance, np.zeros((count, 3)), 1e-6, pairs, yes, yes, no
    )
    cared = Cared(
        tuple(("w", str(k)) for k in range(20)),
        draw.normal(size=(20, 2, count, 3)),
        np.full(20, 1.0),
        np.ones(20),
    )
    assert len(candidates_of(spots).kinds) > 700
    start = time.perf_counter()
    best_readings(spots, cared, SIGMA)
    assert time.perf_counter() - start < 1.0
