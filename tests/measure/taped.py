"""Invented networks: true places, taped with errors drawn from a seed."""

import numpy as np

from leverwright.measure.observations import Along, Distance, Level, Network, Term, Weighted

DOTS = np.array([[0.0, 200, 300], [420, 210, 320], [380, 190, 620], [30, 205, 560]]) / 1e3
HOLES = np.array([[150.0, 280, 410], [260, 330, 450], [200, 300, 520], [330, 120, 400]]) / 1e3
PLACES = np.concatenate([DOTS, HOLES])
SIGMA = 1e-3
NAMES = ("dot-a", "dot-b", "dot-c", "dot-d", "hole-1", "hole-2", "hole-3", "hole-4")
HEIGHTS, OFFSETS = (0, 1, 2, 4), (0, 1, 3)


def tape_pairs():
    """All six distances of the dots, four tapes a hole."""
    return [(a, b) for a in range(4) for b in range(a)] + [(a, b) for b in range(4, 8) for a in range(4)]


def taped(seed, *, noise=SIGMA, sketch=0.02, slips=None, more=None):
    """Dots and holes of the module, the errors of a drawn day in them; slips: tape -> m read wrong."""
    draw = np.random.default_rng(seed)
    wrong = slips or {}
    rough = PLACES + draw.normal(0.0, sketch, PLACES.shape)
    tapes = []
    for a, b in tape_pairs():
        true = float(np.linalg.norm(PLACES[a] - PLACES[b]))
        tapes.append(
            Distance(f"{a}-{b}", (a, b), true + draw.normal(0.0, noise) + wrong.get((a, b), 0.0), SIGMA)
        )
    sums = [
        Weighted(f"height {i}", "height", (Term(i, 2),), PLACES[i, 2] + draw.normal(0, noise), SIGMA, 1.0)
        for i in HEIGHTS
    ]
    sums += [
        Weighted(f"offset {i}", "offset", (Term(i, 1),), PLACES[i, 1] + draw.normal(0, noise), SIGMA)
        for i in OFFSETS
    ]
    return network(rough, distances=tuple(tapes), weighted=tuple(sums), **(more or {}))


def network(sketch, **parts):
    """A network of the first so many names, nothing known."""
    count = len(sketch)
    return Network(
        NAMES[:count], sketch, np.zeros((count, 3), dtype=bool), tuple(range(count)), (0, 1, 2), **parts
    )


def every_kind(sketch):
    """One statement of each kind that has a derivative, on eight points of which the last mirrors the first."""
    return Network(
        NAMES,
        sketch,
        np.zeros((8, 3), dtype=bool),
        (0, 1, 2, 3, 4, 5, 6, 0),
        (0, 1, 2),
        distances=(Distance("a", (0, 4), 0.3, 1e-3), Distance("b", (0, 7), 0.4, 2e-3)),
        weighted=(
            Weighted("h", "height", (Term(3, 2),), 0.5, 1e-3, 1.0),
            Weighted("o", "offset", (Term(7, 1),), -0.2, 1e-3),
            Weighted("ahead", "ahead", (Term(2, 0, 1.0), Term(1, 0, -1.0)), 0.1, 1e-3),
            Weighted("plumb", "plumb", (Term(2, 1, 1.0), Term(7, 1, -1.0)), 0.0, 1e-3),
        ),
        levels=(Level("level", (1, 2, 5), 2e-3),),
        alongs=(Along("along", (4, 5), 6, 0.1, 1e-3), Along("back", (5, 7), 3, 0.2, 1e-3)),
    )
