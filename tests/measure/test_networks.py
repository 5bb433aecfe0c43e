"""Networks of tapes: places, their ±, and what a network says of its own readings."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.optimize import least_squares

from leverwright.measure.network import solve_network
from leverwright.measure.network_rows import rows_of, start_of
from leverwright.measure.observations import Distance, Network, Picked, Side, Term, Weighted
from leverwright.measure.snooping import reweighted
from tests.measure.taped import DOTS, HOLES, NAMES, PLACES, SIGMA, every_kind, network, tape_pairs, taped


def test_exact_tapes_give_the_true_places_from_a_rough_sketch():
    found = solve_network(taped(1, noise=0.0, sketch=0.06))
    off = found.places - PLACES
    off[:, [0, 2]] -= off[:, [0, 2]].mean(axis=0)  # where it lies along and how high is the sketch's word
    assert found.settled
    assert np.abs(off).max() < 1e-9
    assert found.datum == ("ahead", "up")
    assert found.loose == ()


def test_derivatives_agree_with_differences():
    draw = np.random.default_rng(5)
    picture = Picked("side", (0, 3, 6), draw.normal(0, 0.2, (3, 2)), np.eye(6) * 1e-6 + 3e-7, (0, 2))
    rows = rows_of(replace(every_kind(PLACES), pictures=(picture,)))
    at = start_of(rows, PLACES) + draw.normal(0, 0.01, rows.size)
    miss, slope = rows.evaluate(at)
    # The two rows off a line may turn about it together: of them only the sum of squares has a derivative.
    single = [k for k, row in enumerate(rows.rows) if row.part != "off the line"]
    step = 1e-6
    for q in range(rows.size):
        move = np.eye(rows.size)[q] * step
        up, down = rows.evaluate(at + move)[0], rows.evaluate(at - move)[0]
        assert np.allclose(slope[single, q], ((up - down) / (2.0 * step))[single], rtol=1e-6, atol=1e-3), q
        squares = (up @ up - down @ down) / (4.0 * step)
        assert slope[:, q] @ miss == pytest.approx(squares, rel=1e-6, abs=1e-2), q


def test_places_and_spread_are_those_of_a_general_least_squares_library():
    tapes = taped(12)
    found = solve_network(tapes)
    rows = rows_of(tapes)

    def miss(q: Any) -> Any:
        return rows.evaluate(q)[0]

    other: Any = least_squares(miss, start_of(rows, PLACES), xtol=1e-15, ftol=1e-15)
    assert found.suspects == ()
    assert found.misfit == pytest.approx(2.0 * other.cost, rel=1e-8)
    places = rows.places(other.x)
    for a, b in tape_pairs():
        mine, its = (np.linalg.norm(each[a] - each[b]) for each in (found.places, places))
        assert mine == pytest.approx(its, abs=1e-8)
    # The ± of a length that no datum moves, from the library's Jacobian.
    way = (places[7] - places[4]) / np.linalg.norm(places[7] - places[4])
    gradient = np.zeros(rows.size)
    gradient[rows.column[7]], gradient[rows.column[4]] = way, -way
    expected = gradient @ np.linalg.pinv(other.jac.T @ other.jac, rcond=1e-10) @ gradient
    block = found.covariance[np.ix_([4, 7], [0, 1, 2], [4, 7], [0, 1, 2])]
    variance = np.einsum("nc,ncmd,md->", np.array([-way, way]), block, np.array([-way, way]))
    assert variance == pytest.approx(expected, rel=1e-5)


def test_two_thousand_days_of_taping_scatter_as_the_spread_says():
    tapes = taped(3, noise=0.0, sketch=0.0)
    linear = solve_network(tapes)
    draw = np.random.default_rng(20)
    found = []
    for _ in range(2000):
        distances = tuple(replace(d, reads=d.reads + draw.normal(0, SIGMA)) for d in tapes.distances)
        weighted = tuple(replace(w, reads=w.reads + draw.normal(0, SIGMA)) for w in tapes.weighted)
        found.append(_settled(replace(tapes, distances=distances, weighted=weighted)))
    scatter = np.array(found).std(axis=0)
    stated = np.sqrt(np.einsum("ncnc->nc", linear.covariance))
    # 2 000 draws tell a deviation to 1/sqrt(4000) = 1.6 %; 5 % is three of those.
    assert np.abs(scatter / stated - 1.0).max() < 0.05


def _settled(tapes):
    """Only the least-squares part, quickly, laid on the sketch in x and z."""
    rows = rows_of(tapes)
    now = start_of(rows, tapes.sketch)
    for _ in range(5):
        miss, slope = rows.evaluate(now)
        now = now - np.linalg.pinv(slope, rcond=1e-9) @ miss
    places = rows.places(now)
    places[:, [0, 2]] -= (places - tapes.sketch)[:, [0, 2]].mean(axis=0)
    return places


def test_order_of_points_and_tapes_does_not_matter():
    tapes = taped(4)
    order = [5, 2, 7, 0, 1, 6, 3, 4]
    to = {old: new for new, old in enumerate(order)}
    shuffled = replace(
        tapes,
        names=tuple(tapes.names[k] for k in order),
        sketch=tapes.sketch[order],
        distances=tuple(replace(d, ends=(to[d.ends[1]], to[d.ends[0]])) for d in tapes.distances[::-1]),
        weighted=tuple(
            replace(w, terms=tuple(replace(t, point=to[t.point]) for t in w.terms))
            for w in tapes.weighted[::-1]
        ),
    )
    a, b = solve_network(tapes), solve_network(shuffled)
    assert np.allclose(a.places[order], b.places, rtol=0.0, atol=1e-9)
    assert np.allclose(
        a.covariance[np.ix_(order, range(3), order, range(3))], b.covariance, rtol=1e-6, atol=1e-15
    )


def test_a_moved_origin_moves_the_places_and_nothing_else():
    tapes = taped(4)
    away = np.array([5.0, 0.0, -2.0])
    a, b = solve_network(tapes), solve_network(replace(tapes, sketch=tapes.sketch + away))
    assert np.allclose(a.places + away, b.places, rtol=0.0, atol=1e-8)
    assert np.allclose(a.covariance, b.covariance, rtol=1e-6, atol=1e-15)


def test_a_vehicle_built_the_other_way_round_is_the_mirror_image():
    tapes = taped(6)
    flipped = replace(
        tapes,
        sketch=tapes.sketch * [1, -1, 1],
        weighted=tuple(replace(w, reads=-w.reads) if w.kind == "offset" else w for w in tapes.weighted),
    )
    a, b = solve_network(tapes), solve_network(flipped)
    assert np.allclose(a.places * [1, -1, 1], b.places, rtol=0.0, atol=1e-8)


def test_one_bad_tape_among_the_dots_is_named_and_left_out():
    found = solve_network(taped(7, slips={(2, 1): 0.012}))
    (suspect,) = found.suspects
    reading = found.observed[suspect.observed[0]]
    assert reading.row.name == "2-1"
    assert reading.left_out
    assert suspect.gap == pytest.approx(0.012, abs=4 * SIGMA)  # its own error and that of the others
    clean = solve_network(taped(7))
    assert np.abs(found.places - clean.places).max() < 6e-3


def test_two_bad_tapes_are_both_found():
    found = solve_network(taped(8, slips={(2, 1): 0.015, (3, 0): -0.012}))
    assert {found.observed[s.observed[0]].row.name for s in found.suspects} == {"2-1", "3-0"}


def test_the_fourth_tape_to_a_hole_shows_a_slip_but_not_whose_and_widens_its_place():
    found = solve_network(taped(9, slips={(3, 6): 0.015}))
    suspect = found.suspects[0]
    assert not suspect.left_out
    names = {found.observed[k].row.name for k in suspect.observed}
    assert names == {"0-6", "1-6", "2-6", "3-6"}
    clean = solve_network(taped(9))
    wide, narrow = (np.sqrt(np.trace(each.covariance[6, :, 6, :])) for each in (found, clean))
    off = np.linalg.norm((found.places - clean.places)[6])
    assert wide > 2 * narrow
    assert off < 2 * wide


def test_readings_that_only_err_as_stated_raise_no_suspicion():
    quiet = [not solve_network(taped(seed)).suspects for seed in range(100, 130)]
    # 31 readings, about 8 of them spare, at 3 σ: 2 to 8 vehicles in a hundred.
    assert sum(quiet) >= 26


def test_a_hole_on_two_tapes_can_swing_about_their_dots():
    tapes = taped(10)
    few = tuple(d for d in tapes.distances if 5 not in d.ends or d.ends[0] in (0, 1))
    found = solve_network(replace(tapes, distances=few))
    (loose,) = found.loose
    assert (loose.points, loose.motion, set(loose.about)) == ((5,), "swing", {0, 1})
    assert found.open == (5,)


def test_a_point_that_no_tape_reaches_is_named():
    tapes = taped(10)
    found = solve_network(replace(tapes, distances=tuple(d for d in tapes.distances if 5 not in d.ends)))
    (loose,) = found.loose
    assert (loose.points, loose.motion) == ((5,), "anywhere")
    assert np.allclose(found.places[5], tapes.sketch[5], rtol=0.0, atol=0.05)


def test_tapes_alone_do_not_say_which_way_is_up():
    found = solve_network(replace(taped(11), weighted=()))
    assert {loose.motion for loose in found.loose} == {"pitch", "roll"}
    assert found.datum == ("ahead", "sideways", "up", "yaw")


def test_a_place_in_the_plane_of_its_dots_may_lie_on_either_side():
    """A hole 40 mm off the plane of three dots, sketched in that plane."""
    hole = np.array([[0.15, 0.24, 0.45]])
    places = np.concatenate([DOTS[:3] * [1, 0, 1], hole * [1, 0, 1] + [0, 0.04, 0]])
    tapes = tuple(
        Distance(f"{a}-{b}", (a, b), float(np.linalg.norm(places[a] - places[b])), 5e-4)
        for a in range(4)
        for b in range(a)
    )
    sums = tuple(
        Weighted(f"{i}{k}", "coordinate", (Term(i, k),), places[i, k], 5e-4)
        for i in range(3)
        for k in range(3)
    )
    rough = places.copy()
    rough[3, 1] = 0.004
    unsure = network(rough, distances=tapes, weighted=sums, alone=False)
    (image,) = solve_network(unsure).mirrors
    assert image.decided is None
    assert image.apart == pytest.approx(0.08, abs=1e-3)
    for where, sign in (("left", 1.0), ("right", -1.0)):
        told = solve_network(replace(unsure, sides=(Side("which", 3, (0, 1, 2), where),)))
        assert told.places[3, 1] == pytest.approx(sign * 0.04, abs=1e-3)
        assert [m.decided for m in told.mirrors] == ["side"]
        assert told.wrong_side == ()
    rough[3, 1] = -0.035
    sketched = solve_network(replace(unsure, sketch=rough))
    assert sketched.places[3, 1] == pytest.approx(-0.04, abs=1e-3)
    assert [m.decided for m in sketched.mirrors] == ["sketch"]


def test_the_other_side_is_measured_with_the_left_one():
    """One point and its unwritten twin: the tape between them reads twice the offset."""
    sketch = np.array([[0.1, 0.25, 0.3], [0.1, -0.25, 0.3]])
    across = Network(
        ("hub-left", "hub-right"),
        sketch,
        np.zeros((2, 3), dtype=bool),
        (0, 0),
        (0, 1, 2),
        distances=(Distance("across", (0, 1), 0.642, 1e-3),),
    )
    found = solve_network(across)
    assert found.places[:, 1] == pytest.approx([0.321, -0.321], abs=1e-9)
    assert np.sqrt(found.covariance[0, 1, 0, 1]) == pytest.approx(0.5e-3, rel=1e-6)
    assert found.covariance[0, 1, 1, 1] == pytest.approx(-0.25e-6, rel=1e-6)


def test_stated_coordinates_hold_the_network_and_err_as_they_say():
    hole = HOLES[0]
    sums = tuple(
        Weighted(f"{i}{k}", "coordinate", (Term(i, k),), PLACES[i, k], 2e-3)
        for i in range(3)
        for k in range(3)
    )
    tapes = tuple(Distance(f"{a}-3", (a, 3), float(np.linalg.norm(PLACES[a] - hole)), 1e-3) for a in range(3))
    places = np.concatenate([DOTS[:3], hole[None]])
    found = solve_network(network(places + 0.01, distances=tapes, weighted=sums, alone=False))
    assert np.allclose(found.places, places, rtol=0.0, atol=1e-9)
    assert found.datum == ()
    assert found.spare == 0


def test_the_floor_is_found_where_coordinates_and_heights_meet():
    sums = tuple(
        Weighted(f"{i}{k}", "coordinate", (Term(i, k),), PLACES[i, k], 1e-3)
        for i in range(3)
        for k in range(3)
    )
    heights = tuple(
        Weighted(f"h{i}", "height", (Term(i, 2),), PLACES[i, 2] + 0.05, 1e-3, 1.0) for i in range(4)
    )
    tapes = tuple(
        Distance(f"{a}-3", (a, 3), float(np.linalg.norm(PLACES[a] - PLACES[3])), 1e-3) for a in range(3)
    )
    found = solve_network(network(PLACES[:4], distances=tapes, weighted=sums + heights, alone=False))
    assert found.floor == pytest.approx(-0.05, abs=1e-9)


def test_the_datum_leaves_the_middle_of_the_sketch_without_error() -> None:
    """Inner constraints: the mean of all places along a motion that nothing measures does not err."""
    found = solve_network(taped(13))
    assert found.datum == ("ahead", "up")
    for axis in (0, 2):
        total = found.covariance[:, axis, :, axis].sum()
        assert abs(total) < 1e-9 * np.trace(found.covariance[:, axis, :, axis])
        off = found.places[:, axis] - taped(13).sketch[:, axis]
        assert abs(off.mean()) < 1e-9
    # A height is known as well as the floor lets it, whatever the datum: 1 mm of its own tape and less.
    height = found.covariance[0, 2, 0, 2] - 2 * found.floor_with[0, 2] + found.floor_variance
    assert 0.2 * SIGMA < np.sqrt(height) < SIGMA


def test_a_reading_that_counts_less_is_as_if_it_were_solved_so() -> None:
    """Rank-one changes against the equations themselves, linear as they stand."""
    rows = rows_of(taped(14))
    miss, slope = rows.evaluate(start_of(rows, PLACES))
    solve = np.linalg.pinv(slope, rcond=1e-10)
    rest, cover = miss - slope @ (solve @ miss), slope @ solve
    for share in (0.0, 0.04, 0.5):
        weight = np.ones(len(miss))
        weight[5] = np.sqrt(share)
        again = np.linalg.pinv(slope * weight[:, None], rcond=1e-10)
        left = miss - slope @ (again @ (weight * miss))
        scale = np.where((np.arange(len(miss)) == 5) & (share > 0.0), np.sqrt(share), 1.0)
        now, there = reweighted(rest, cover, 5, share)
        assert np.allclose(now, left * scale, rtol=0.0, atol=1e-8)
        expected = (slope * scale[:, None]) @ again
        others = [k for k in range(len(miss)) if k != 5]
        assert np.allclose(there[np.ix_(others, others)], expected[np.ix_(others, others)], atol=1e-9)


def test_names_and_sketch_of_this_file_belong_together():
    assert len(NAMES) == len(PLACES) == len(DOTS) + len(HOLES)
