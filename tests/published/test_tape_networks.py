"""Networks of distances whose places, residuals and redundancies are known from outside.

Trilateration: the three-station example of Ghilani, Adjustment Computations, ch. 14 (inputs from memory), whose
solution an independent least-squares library gave. The taped quadrilateral: the same library.
"""

import numpy as np
import pytest

from leverwright.measure.network import solve_network
from leverwright.measure.observations import Distance, Network

UNIT = 1e-3  # one unit of the tables in metres


def flat_network(sketch, known, distances):
    """A network in the x y plane from places and distances in units of the tables, all of equal weight."""
    count = len(sketch)
    places, exact = np.zeros((count, 3)), np.ones((count, 3), dtype=bool)
    places[:, :2] = np.array(sketch) * UNIT
    exact[:, :2] = known
    tapes = tuple(
        Distance(f"{'ABCDP'[a]}{'ABCDP'[b]}", (a, b), reads * UNIT, UNIT) for a, b, reads in distances
    )
    names = tuple("ABCDP"[:count])
    return Network(names, places, exact, tuple(range(count)), (0, 1), tapes, alone=False)


def test_trilateration_from_three_stations():
    stations = [(865.40, 4527.15), (2432.55, 2047.25), (2865.22, 27.15)]
    known = [(True, True)] * 3 + [(False, False)]
    reads = [(0, 3, 6049.00), (1, 3, 4736.83), (2, 3, 5446.49)]
    found = solve_network(flat_network([*stations, (6500, 3500)], known, reads))
    assert found.places[3, :2] / UNIT == pytest.approx([6861.317, 3727.819], abs=1e-3)
    assert [o.residual / UNIT for o in found.observed] == pytest.approx([-0.0374, 0.0768, -0.0474], abs=1e-4)
    assert found.s0 == pytest.approx(0.0977, abs=1e-4)
    sigma = found.s0 * np.sqrt(np.diag(found.covariance[3, :, 3, :])) / UNIT
    assert sigma[:2] == pytest.approx([0.0775, 0.1542], abs=1e-4)


def test_taped_quadrilateral():
    sketch = [(0, 0), (580, 0), (620, 380), (20, 420)]
    known = [(True, True), (False, True), (False, False), (False, False)]
    reads = [(0, 1, 602.0), (0, 2, 721.0), (0, 3, 398.5), (1, 2, 401.5), (1, 3, 722.5), (2, 3, 599.0)]
    found = solve_network(flat_network(sketch, known, reads))
    expected = [(0, 0), (602.094, 0), (598.696, 401.548), (-0.392, 398.563)]
    assert np.allclose(found.places[:, :2] / UNIT, expected, rtol=0.0, atol=1e-3)
    assert found.s0 == pytest.approx(0.2272, abs=1e-4)
    redundancy = {o.row.name: o.redundancy for o in found.observed}
    printed = {"AB": 0.172, "AC": 0.249, "AD": 0.077, "BC": 0.076, "BD": 0.251, "CD": 0.174}
    assert redundancy == pytest.approx(printed, abs=1e-3)
    assert sum(redundancy.values()) == pytest.approx(1.0, abs=1e-9)  # one reading more than needed


def test_the_quadrilateral_is_the_same_whatever_holds_it():
    reads = [(0, 1, 602.0), (0, 2, 721.0), (0, 3, 398.5), (1, 2, 401.5), (1, 3, 722.5), (2, 3, 599.0)]
    found = solve_network(
        flat_network([(0, 0), (580, 0), (620, 380), (20, 420)], [(False, False)] * 4, reads)
    )
    assert found.s0 == pytest.approx(0.2272, abs=1e-4)
    assert np.linalg.norm(found.places[1] - found.places[0]) / UNIT == pytest.approx(602.094, abs=1e-3)
    assert [o.redundancy for o in found.observed] == pytest.approx(
        [0.172, 0.249, 0.077, 0.076, 0.251, 0.174], abs=1e-3
    )
