"""Networks that nobody should measure: an answer with finite places, whatever is read, within moments."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from leverwright.measure.network import solve_network
from leverwright.measure.observations import Along, Distance, Level, Network, Side, Term, Weighted
from tests.measure.taped import PLACES, taped

AXES = {"height": 2, "offset": 1, "ahead": 0}


def drawn(seed: int) -> Network:
    """Two to eight points, coincident, flat, tiny or known, with readings of which some are absurd."""
    draw = np.random.default_rng(seed)
    count = int(draw.integers(2, 9))
    axes = [(0, 1, 2), (0, 2), (1, 2)][int(draw.choice([0, 0, 0, 1, 2]))]
    places = draw.normal(0, 0.4, (count, 3)) * (1e-6 if draw.random() < 0.1 else 1.0)
    places[:, [a for a in range(3) if a not in axes]] = 0.0
    if draw.random() < 0.2:
        places[1] = places[0]
    if draw.random() < 0.2:
        places[:, axes[0]] = 0.0
    known = np.ones((count, 3), dtype=bool)
    known[:, list(axes)] = draw.random((count, len(axes))) < 0.2
    distances = []
    for k in range(int(draw.integers(0, 3 * count))):
        a, b = (int(p) for p in draw.choice(count, 2, replace=False))
        reads = float(np.linalg.norm(places[a] - places[b]) + draw.normal(0, 1e-3))
        if draw.random() < 0.1:
            reads = float(draw.choice([0.0, 1e-9, 10.0, 100.0, -1.0]))
        distances.append(Distance(f"t{k}", (a, b), reads, float(draw.choice([1e-3, 1e-6, 0.5]))))
    sums = []
    for k in range(int(draw.integers(0, 6))):
        kind = str(draw.choice(["height", "offset", "ahead"]))
        p, q = (int(p) for p in draw.choice(count, 2, replace=False))
        if AXES[kind] in axes:
            terms = (
                (Term(p, AXES[kind]), Term(q, AXES[kind], -1.0))
                if kind == "ahead"
                else (Term(p, AXES[kind]),)
            )
            reads = float(places[p, AXES[kind]] + draw.normal(0, 1e-3))
            sums.append(Weighted(f"w{k}", kind, terms, reads, 1e-3, float(kind == "height")))
    some = [int(p) for p in draw.permutation(count)]
    return Network(
        tuple(f"p{k}" for k in range(count)),
        places + np.where(known, 0.0, draw.normal(0, 0.05, places.shape)),
        known,
        tuple(range(count)),
        axes,
        tuple(distances),
        tuple(sums),
        (Level("l", tuple(some[:3]), 1e-3),) if 2 in axes else (),
        (Along("a", (some[0], some[1]), some[2], 0.2, 1e-3),) if count > 2 and draw.random() < 0.4 else (),
        (),
        (Side("s", some[3], tuple(some[: len(axes)]), "above"),) if count > 3 and 2 in axes else (),
        alone=bool(draw.random() < 0.5),
    )


@pytest.mark.parametrize("seed", range(60))
def test_any_readings_give_finite_places(seed: int) -> None:
    network = drawn(seed)
    with np.errstate(all="raise", under="ignore"):
        found = solve_network(network)
    assert np.isfinite(found.places).all()
    assert np.isfinite(found.covariance).all()
    assert np.array_equal(found.places[network.known], network.sketch[network.known])
    assert all(0.0 <= o.redundancy <= 1.0 for o in found.observed)


def test_two_points_and_nothing_else() -> None:
    network = Network(("a", "b"), np.eye(2, 3), np.zeros((2, 3), dtype=bool), (0, 1), (0, 1, 2))
    found = solve_network(network)
    assert np.allclose(found.places, np.eye(2, 3))
    assert set(found.open) == {0, 1}


@pytest.mark.parametrize("pair", [(1, 5), (3, 7)])
@pytest.mark.parametrize("factor", [1 / 25.4, 0.1, 10.0, 25.4])
def test_a_slip_of_unit_or_decimal_point_is_found_and_nothing_else_is_blamed(pair, factor):
    true = float(np.linalg.norm(PLACES[pair[0]] - PLACES[pair[1]]))
    found = solve_network(taped(3, slips={pair: (factor - 1.0) * true}))
    named = [found.observed[k].row.name for each in found.suspects for k in each.observed]
    assert named == [f"{pair[0]}-{pair[1]}"]
    assert found.suspects[0].left_out
    assert found.suspects[0].gap == pytest.approx((factor - 1.0) * true, abs=0.01)
    assert found.open == ()


def test_a_place_sketched_far_off_has_none_of_its_readings_blamed():
    good, far = taped(4), taped(4)
    sketch = far.sketch.copy()
    sketch[6] += [0.25, 0.1, -0.2]
    moved = solve_network(replace(far, sketch=sketch))
    assert moved.suspects == ()
    there, here = (solve_network(good).places, moved.places)
    assert np.linalg.norm(there[6] - there[2]) == pytest.approx(np.linalg.norm(here[6] - here[2]), abs=1e-6)


@pytest.mark.parametrize("sigma", [0.0, 1e-300])
def test_a_reading_said_to_be_exact_is_taken_as_good_to_a_hundredth_of_a_millimetre(sigma):
    tapes = taped(5)
    exact = tuple(replace(d, sigma=sigma) if d.name == "1-0" else d for d in tapes.distances)
    found = solve_network(replace(tapes, distances=exact))
    row = next(o for o in found.observed if o.row.name == "1-0")
    assert np.isfinite(found.places).all()
    assert abs(row.residual) < 1e-5
    assert row.row.sigma == 1e-5
