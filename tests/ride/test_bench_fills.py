"""Bench readings, wire and rod filled into a vehicle's shocks, with what errs together."""

from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.assemble.bench import filled_springs

CART = Path(__file__).parents[2] / "examples" / "garden-cart.toml"
G = 9.80665


def changed(*edits):
    text = CART.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return Project.from_text(text)


def fits(*edits):
    return filled_springs(changed(*edits))


def test_gas_is_told_apart_from_preload_by_the_rod_alone():
    """B: start 218 N less 13.7 kg of gas leaves 84 N on its coil, 4.6 mm."""
    found = fits().springs["B"]
    assert found.gas.value == pytest.approx(13.7 * G)
    assert found.preload.value == pytest.approx((217.95 - 13.7 * G) / 18117.8, rel=1e-3)
    assert found.gas_known


def test_without_the_rod_the_start_force_is_all_called_preload_and_said():
    found = fits(("rod = 13.7 ", "# rod ")).springs["B"]
    assert found.gas is None
    assert not found.gas_known
    assert found.preload.value == pytest.approx(217.95 / 18117.8, rel=1e-3)


def test_force_is_the_same_wherever_the_split_lies():
    """How start force splits into preload and gas moves nothing while the coil is held."""
    push = [
        (project := fits(*edit).project.shocks["right"]).rate.value * (0.02 + project.preload.value)
        + (0.0 if project.gas is None else project.gas.value)
        for edit in ((), (("rod = 13.7 ", "# rod "),))
    ]
    assert push[0] == pytest.approx(push[1], rel=1e-12)


def test_rate_preload_and_gas_err_together():
    """Standing force 18.12 N/mm · (20 mm + preload) + gas : as sure as the bench line there, not more."""
    filled = fits()
    block = next(b for b in filled.blocks if ("shock", "right", "gas") in b.inputs)
    shock = filled.project.shocks["right"]
    order = [b[2] for b in block.inputs]
    slopes = {"rate": 0.02 + shock.preload.value, "preload": shock.rate.value, "gas": 1.0}
    reach = np.array([slopes[key] for key in order])
    line = filled.springs["right"].bench.covariance[:2, :2]
    at = np.array([0.02, 1.0])
    assert reach @ block.covariance @ reach == pytest.approx(at @ line @ at, rel=1e-9)


def test_bench_and_wire_that_agree_are_combined_by_weight():
    found = fits().springs["A"]
    assert found.routes.agree
    assert found.routes.difference / found.routes.bench == pytest.approx(-0.035, abs=0.001)
    bench, wire = found.bench.error[0], found.wire.rate.error
    share = bench**2 / (bench**2 + wire**2)
    assert found.rate.value == pytest.approx(found.bench.rate + share * found.routes.difference, rel=1e-9)
    assert found.rate.error == pytest.approx(bench * wire / np.hypot(bench, wire), rel=1e-9)


def test_routes_that_disagree_leave_the_bench_alone():
    found = fits(("diameter = 6,", "diameter = 7,")).springs["A"]
    assert not found.routes.agree
    assert found.rate.value == pytest.approx(found.bench.rate, rel=1e-12)


def test_what_the_file_states_comes_before_what_was_measured():
    filled = fits(('[shocks.left]\npile = "A"', '[shocks.left]\npile = "A"\npreload = 12\nfriction = 30'))
    shock = filled.project.shocks["left"]
    assert shock.preload.value == pytest.approx(0.012)
    assert shock.friction.value == pytest.approx(30)
    assert shock.rate.value == pytest.approx(18.04e3, rel=1e-3)
    assert filled.springs["left"].filled == {"rate"}


def test_a_plank_multiplies_and_its_own_weight_comes_off():
    """Pressed at 400 of 1000 mm, 2 kg of plank: the scale reads 0.4 of the push and 2 kg more."""
    plain = fits().springs["D"]

    def over(column):
        return str([round(kg * 0.4 + 2, 3) for kg in column])

    planked = fits(
        ("in  = [9.0, 25.5, 42.0, 58.0, 74.5]", f"in = {over([9.0, 25.5, 42.0, 58.0, 74.5])}"),
        (
            "out = [5.0, 21.0, 37.5, 54.0, 74.5]",
            f"out = {over([5.0, 21.0, 37.5, 54.0, 74.5])}\nplank = {{ load = 400, scale = 1000, alone = 2 }}",
        ),
    ).springs["D"]
    assert planked.rate.value == pytest.approx(plain.rate.value, rel=1e-9)
    assert planked.start.value == pytest.approx(plain.start.value, rel=1e-9)
    assert planked.rate.error / planked.rate.value > 0.0125  # 5 mm of 400 alone


def test_a_spring_that_stiffens_becomes_a_table():
    marks = np.array([0, 10, 20, 30, 40])
    push = 8 + 1.6 * marks * (1 + marks / 60)
    rows = [str([round(2 * (kg + side)) / 2 for kg in push]) for side in (2, -2)]
    project = fits(
        ("in  = [10.5, 29.5, 47.5, 66.0, 84.5]", f"in = {rows[0]}"),
        ("out = [6.5, 24.5, 43.0, 61.5, 84.5]", f"out = {rows[1]}"),
        ("wire = { diameter = 6, outside = 52, active = 7.5 }", ""),
    ).project
    shock = project.shocks["left"]
    assert shock.rate is None
    assert shock.table is not None
    assert shock.table[-1][0] == pytest.approx(0.040)


def test_coils_that_touched_on_the_bench_are_known_to_the_vehicle():
    """Straight to 30 mm, then 40 kg too much: they touch between 288 and 278 mm eye to eye."""
    project = fits(
        ("in  = [10.5, 29.5, 47.5, 66.0, 84.5]", "in = [10.5, 29.5, 47.5, 66.0, 125]"),
        ("out = [6.5, 24.5, 43.0, 61.5, 84.5]", "out = [6.5, 24.5, 43.0, 61.5, 125]"),
    ).project
    assert project.shocks["left"].coils_touch.value == pytest.approx(0.283)


def test_a_shock_that_does_not_come_back_is_rejected_with_its_reading():
    """C: 3 of 30 mm in 10 s."""
    (why,) = fits().springs["C"].unfit
    assert why.reject
    assert (why.reason, why.number) == ("stops-short", pytest.approx(0.003))


@pytest.mark.parametrize(
    ("edit", "reason"),
    [
        (('oil = "none"', 'oil = "running"'), "oil"),
        (('oil = "none"\nrod = "straight"', 'oil = "none"\nrod = "bent"'), "bent"),
        (('oil = "none"\nrod = "straight"', 'oil = "none"\nrod = "pitted"'), "pitted"),
        (("[20.0, 38.5, 57.0, 75.5, 98.0]", "[20.0, 0, 0, 0, 98.0]"), "no-push"),
        (("[20.0, 38.5, 57.0, 75.5, 98.0]", "[5.0, 9.5, 14.0, 20.0, 98.0]"), "sticks"),
        (("rod = 13.7 ", "returned = { by = 30, of = 30, in = 6 } "), "slow"),
    ],
)
def test_each_reason_to_reject_is_told(edit, reason):
    found = fits(edit).springs["B"].unfit
    assert [each.reason for each in found if each.reject] == [reason]


def test_a_film_of_oil_and_two_seconds_are_fine():
    assert fits(("rod = 13.7 ", "returned = { by = 30, of = 30, in = 2 } ")).springs["B"].unfit == ()
    assert fits().springs["A"].unfit == ()


def test_columns_the_wrong_way_round_are_seen():
    found = fits(
        ("in  = [9.0, 25.5, 42.0, 58.0, 74.5]", "out = [9.0, 25.5, 42.0, 58.0, 74.5]"),
        ("out = [5.0, 21.0, 37.5, 54.0, 74.5]", "in = [5.0, 21.0, 37.5, 54.0, 74.5]"),
    ).springs["D"]
    assert [each.reason for each in found.unfit] == ["swapped"]


def test_a_file_without_bench_or_pile_is_left_as_it_is():
    project = Project.read(CART.with_name("orchard-cart.toml"))
    assert Study(project).project is project


def test_a_vehicle_on_a_shock_that_nothing_tells_says_so():
    """C on the left: no rate, so no standing height, with the reason; the right side is answered all the same."""
    of = Study(changed(('[shocks.left]\npile = "A"', '[shocks.left]\npile = "C"')))
    sag = of.answers["rear-left"].of["sag"]
    assert sag.value is None
    assert "squash it on a scale" in str(sag.because)
    assert of.answers["rear-right"].of["sag"].value == pytest.approx(0.0374, abs=1e-4)
