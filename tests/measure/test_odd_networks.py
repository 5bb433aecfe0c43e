"""Networks that nobody should measure: an answer with finite places, whatever is read, within moments."""

from __future__ import annotations

import numpy as np
import pytest

from leverwright.measure.network import solve_network
from leverwright.measure.observations import Along, Distance, Level, Network, Side, Term, Weighted

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
