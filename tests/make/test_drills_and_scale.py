"""Stock drills, marks in inches, and a printer that does not keep the scale."""

import pytest

from leverwright.make.choices import Choices, MakeError
from leverwright.make.drills import lever_shift, nearest_inch, nearest_metric, say_shift
from leverwright.make.plates import flat_parts
from leverwright.make.scale import print_scale
from tests.make.vehicle_samples import flat


@pytest.mark.parametrize(
    ("diameter", "name", "shift"),
    [
        (0.010, "10.0 mm", "on size"),
        (0.01003, "10.0 mm", "0.03 mm under"),
        (0.0172, "17.0 mm", "0.20 mm under"),
    ],
)
def test_nearest_drill_in_millimetres(diameter, name, shift):
    drill = nearest_metric(diameter)
    assert (drill.name, say_shift(drill)) == (name, shift)


@pytest.mark.parametrize(
    ("diameter", "name", "shift"),
    [
        (0.010, "25/64 in", "0.08 mm under"),  # 25/64 x 25.4 = 9.922
        (0.009525, "3/8 in", "on size"),
        (0.0254, "1 in", "on size"),
        (0.0275, "1 5/64 in", "0.12 mm under"),  # 69/64 x 25.4 = 27.384
    ],
)
def test_nearest_drill_in_inches(diameter, name, shift):
    drill = nearest_inch(diameter)
    assert (drill.name, say_shift(drill)) == (name, shift)


def test_marking_in_32nds_shifts_the_lever_by_the_change_of_its_arms():
    part = flat_parts(flat(), Choices(hole=0.010)).parts[0]
    shift = lever_shift(part)
    assert shift.exact == pytest.approx(1.3, abs=1e-12)  # 130 over 100
    mark = 25.4 / 32 / 1000
    pivot, *others = part.holes
    arms = {}
    for hole in others:
        steps = [(round(a / mark) - round(b / mark)) * mark for a, b in zip(hole.at, pivot.at, strict=True)]
        arms[hole.role] = (steps[0] ** 2 + steps[1] ** 2) ** 0.5
    assert shift.marked == pytest.approx(arms["spring"] / arms["link"], rel=1e-12)
    assert 0 < abs(shift.change) < 0.02


def test_a_bar_that_reads_194_is_cured_by_200_over_194():
    scale = print_scale(0.194)
    assert scale.across == pytest.approx(200 / 194)
    assert scale.up == pytest.approx(200 / 194)
    assert not scale.true
    assert "-3.0 %" in scale.sentence


def test_each_axis_has_its_own_factor():
    scale = print_scale(0.199, 0.201)
    assert scale.across == pytest.approx(200 / 199)
    assert scale.up == pytest.approx(200 / 201)


@pytest.mark.parametrize(
    ("reading", "true"), [(0.2003, True), (0.1997, True), (0.2004, False), (0.1996, False)]
)
def test_within_three_tenths_is_true(reading, true):
    assert print_scale(reading).true is true


@pytest.mark.parametrize("reading", [0.1, 0.3, 0.0, -0.2, 194.0, float("nan"), float("inf")])
def test_a_reading_of_another_paper_or_unit_is_refused(reading):
    with pytest.raises(MakeError, match="180 to 220 mm"):
        print_scale(reading)
