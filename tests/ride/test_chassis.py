"""The chassis on its wheels: lifted wheels, preload, beam axles, flat drawings, and what cannot stand."""

from __future__ import annotations

import math
import re
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.assemble.footing import Footing
from leverwright.assemble.parts import parts_of
from leverwright.ride.chassis import stand_chassis
from leverwright.ride.chassis_balance import Burden

EXAMPLES = Path(__file__).parents[2] / "examples"
FINDINGS = Path(__file__).parents[1] / "findings"


def with_loads(text, masses, **sets):
    """The file's text without wheel loads, with masses {name: (kg, at)} and load sets."""
    text = re.sub(r"(?m)^load\s*=.*\n", "", text)
    for name, (mass, at) in masses.items():
        text += f"\n[masses.{name}]\nmass = {mass}\nat = {list(at)}\n"
    for name, carries in sets.items():
        text += f"\n[loads.{name}]\ncarries = [{', '.join(repr(each) for each in carries)}]\n"
    return Study(Project.from_text(text.replace("'", '"')))


def four_wheels(changes=(), **masses):
    text = (EXAMPLES / "step-free-buggy.toml").read_text(encoding="utf-8")
    text = text[: text.index("[masses.buggy]")]
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return with_loads(text, masses, usual=list(masses))


def trailer(name, coupling, **masses):
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return with_loads(f"{text}\n[coupling]\nat = {list(coupling)}\n", masses, usual=list(masses))


def planar(chassis):
    """How far [m] the wheels' lowest points, of those on the ground, are from the ground."""
    on = [k for k, name in enumerate(chassis.names) if name not in chassis.lifted]
    return np.abs(chassis.contacts[on] @ chassis.up - chassis.ground).max()


def moments(study, chassis):
    """What is left of the balance of moments about the ground's origin, N·m, with g = 9.80665."""
    weight = study.measured.weights.burden.total
    force = 9.80665 * chassis.up
    about = sum(np.cross(at, load * force) for at, load in zip(chassis.contacts, chassis.loads, strict=True))
    if study.file.coupling is not None:
        about = about + np.cross(study.file.coupling.at, chassis.coupling * force)
    return about - np.cross(chassis.centre, weight * force)


@pytest.mark.parametrize(
    "masses",
    [
        {"all": (300, (900, 0, 600))},
        {"all": (300, (800, 60, 700))},
        {"all": (180, (1400, -90, 500)), "box": (60, (-200, 150, 400))},
    ],
)
def test_every_balance_holds_and_the_wheels_stand_in_one_plane(masses):
    of = four_wheels(**masses)
    chassis = of.chassis
    assert chassis.because is None
    assert planar(chassis) < 1e-9
    assert np.abs(moments(of, chassis)).max() < 1e-6
    assert chassis.loads.sum() == pytest.approx(sum(mass for mass, _ in masses.values()), rel=1e-10)


def test_wheels_stand_where_the_standing_of_their_loads_puts_them():
    """The chassis' own heights against the answers under those loads; a ground leaning 1 deg changes 1e-4 of them."""
    of = four_wheels(all=(300, (800, 60, 700)))
    heights = [of.answers[name].of["standing_travel"].value for name in of.chassis.names]
    assert of.chassis.heights == pytest.approx(heights, abs=2e-4)


def test_a_corner_far_too_light_leaves_the_ground_and_three_carry_all():
    """Front springs so short of travel that the light one hangs before it touches."""
    of = four_wheels(all=(240, (230, 330, 500)))
    chassis = of.chassis
    assert chassis.because is None
    assert chassis.lifted == ("front-right",)
    assert chassis.loads[chassis.names.index("front-right")] == 0.0
    assert planar(chassis) < 1e-9
    assert np.abs(moments(of, chassis)).max() < 1e-6
    hanging = chassis.contacts[chassis.names.index("front-right")] @ chassis.up - chassis.ground
    assert hanging > 1e-3


def test_a_wheel_on_its_preload_carries_what_the_others_leave():
    """A front collar screwed up by 40 mm: 28.6 N/mm x 40 mm x 0.70 is 801 N, more than a front wheel's 480."""
    end = "length_closed = 266\npreload = {}\n\n[shocks.rear]"
    of = four_wheels([(end.format(4), end.format(40))], all=(318, (723, 0, 720)))
    assert [standing.on for standing in of.standing].count("preload") == 2
    assert planar(of.chassis) < 1e-9
    assert of.chassis.loads.sum() == pytest.approx(318)


def test_a_beam_axle_carries_a_trailer_as_separate_arms_would():
    """Statics alone: 300 kg 0.1 m ahead of an axle 1.6 m behind the coupler, 30 mm to the left, wheels at 0.64."""
    of = trailer("hay-trailer", (1600, 0, 420), all=(300, (100, 30, 300)))
    chassis = of.chassis
    assert chassis.because is None
    assert np.abs(moments(of, chassis)).max() < 1e-6
    assert chassis.coupling == pytest.approx(300 * 0.1 / 1.6, rel=0.05)
    left, right = chassis.loads
    assert left - right == pytest.approx(300 * 30 / 640, rel=0.1)  # it leans to the left, and more goes there
    assert left > right


def test_a_stated_height_of_the_coupler_pitches_the_trailer():
    text = (EXAMPLES / "peat-trailer.toml").read_text(encoding="utf-8")
    level = Study(Project.from_text(text)).under("empty").chassis
    raised = (
        Study(Project.from_text(text.replace("[1700, 0, 400]", "[1700, 0, 400]\nheight = 460")))
        .under("empty")
        .chassis
    )
    assert math.degrees(level.pitch - raised.pitch) == pytest.approx(math.degrees(60 / 1700), rel=0.02)


def test_a_flat_drawing_of_two_wheels_stands_and_pitches():
    flat = """
leverwright = 1
title = "two wheels from the side, invented"
pose = "on blocks"
plane = "xz"
[points]
front-pivot = [900, 300]
front-hub = [500, 300]
front-eye = [600, 300]
front-top = [600, 560]
rear-pivot = [-100, 300]
rear-hub = [-500, 300]
rear-eye = [-400, 300]
rear-top = [-400, 560]
[bodies]
chassis = ["front-pivot", "front-top", "rear-pivot", "rear-top"]
front-arm = ["front-pivot", "front-hub", "front-eye"]
rear-arm = ["rear-pivot", "rear-hub", "rear-eye"]
[shocks.coil]
rate = 20
length_open = 300
length_closed = 180
preload = 0
[springs.front]
ends = ["front-eye", "front-top"]
shock = "coil"
[springs.rear]
ends = ["rear-eye", "rear-top"]
shock = "coil"
[wheels.front]
body = "front-arm"
centre = "front-hub"
radius = 250
unsprung = 5
[wheels.rear]
body = "rear-arm"
centre = "rear-hub"
radius = 250
unsprung = 5
"""
    of = with_loads(flat, {"all": (100, (100, 400))}, usual=["all"])
    assert of.chassis.because is None
    assert of.chassis.loads == pytest.approx(
        [60, 40], abs=0.6
    )  # 500 + 100 of 1000, and a little more nose down
    assert of.chassis.pitch > 0
    assert of.chassis.roll == pytest.approx(0.0, abs=1e-12)
    assert "flat" in of.loading.tipping


@pytest.mark.parametrize(
    ("masses", "words"),
    [
        ({"all": (300, (-1500, 0, 500))}, "tips over"),
        ({"all": (300, (900, 900, 500))}, "tips over"),
    ],
)
def test_a_load_outside_its_wheels_tips_it_standing(masses, words):
    assert words in four_wheels(**masses).chassis.because


def test_on_its_stops_all_round_the_wheels_share_evenly():
    """1.2 N/mm squashed flat: four legs that give nothing. Left and right differ by 2 x 318 x 30 / 1050 / 2 an end."""
    of = four_wheels([("rate = 28.6", "rate = 1.2")], all=(318, (723, 30, 1500)))
    assert [standing.on for standing in of.standing] == ["stops"] * 4
    front, rear = of.chassis.loads[:2], of.chassis.loads[2:]
    assert front[0] - front[1] == pytest.approx(318 * 30 / 1050, rel=0.01)
    assert rear[0] - rear[1] == pytest.approx(318 * 30 / 1050, rel=0.01)


def test_a_coupler_so_high_that_it_leans_by_over_15_degrees_is_refused():
    text = (EXAMPLES / "peat-trailer.toml").read_text(encoding="utf-8")
    high = Study(Project.from_text(text.replace("[1700, 0, 400]", "[1700, 0, 400]\nheight = 1000")))
    assert "15 deg" in str(high.chassis.because)


def test_a_rigid_frame_on_rigid_wheels_asks_for_the_tyres():
    text = (EXAMPLES / "swamp-buggy-weighed.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^tyre = .*\n", "", text[: text.index("[scale]")])
    because = with_loads(text, {"all": (500, (900, 0, 600))}, usual=["all"]).chassis.because
    assert "state the tyres" in str(because)


def test_one_wheel_in_a_flat_drawing_cannot_say_what_carries_the_rest():
    text = (EXAMPLES / "gravity-racer.toml").read_text(encoding="utf-8")
    of = with_loads(text, {"all": (84, (0, 300))}, usual=["all"])
    assert "one place to stand on" in str(of.chassis.because)
    assert of.answers["front"].of["sag"].value is None


def test_without_unsprung_weights_the_loads_are_those_of_a_level_table():
    text = re.sub(r"(?m)^unsprung = .*\n", "", (EXAMPLES / "peat-trailer.toml").read_text(encoding="utf-8"))
    of = Study(Project.from_text(text))
    assert of.measured.weights.loads["wheel-left"].value == pytest.approx((345 - 34.44) / 2, abs=0.01)
    assert "unsprung" in str(of.measured.weights.level)


def test_a_file_without_load_tables_measures_nothing():
    of = Study(Project.read(EXAMPLES / "forest-buggy.toml"))
    assert of.measured.weights is None
    assert (of.sets, of.load_set, of.chassis, of.loading) == ({}, None, None, None)


def test_an_unknown_load_set_is_a_key_error():
    with pytest.raises(KeyError):
        four_wheels(all=(300, (900, 0, 600))).under("no-such-set")


def test_another_load_set_shares_everything_but_the_loads():
    of = Study(Project.read(EXAMPLES / "peat-trailer.toml"))
    other = of.under("empty")
    assert other.mechanism is of.mechanism
    assert other.travels is of.travels
    assert all(a.posed is b.posed for a, b in zip(other.heave, of.heave, strict=True))
    assert other.project.wheels["wheel-left"].load.value < of.project.wheels["wheel-left"].load.value
    assert other.under("usual").project.wheels == of.project.wheels


BARE = (EXAMPLES / "swamp-buggy-weighed.toml").read_text(encoding="utf-8")
BARE = BARE[: BARE.index("[scale]")]


def test_the_spread_of_the_loads_is_that_of_drawn_masses():
    """400 draws tell a deviation to 3.5 %: 15 % is four of those. Everything errs: two masses, and their places."""
    rng = np.random.default_rng(11)
    told = {"frame": ("300 ± 6 kg", [900, 20, 500], 15), "driver": ("90 ± 2 kg", [700, -50, 900], 30)}
    tables = "".join(
        f'\n[masses.{name}]\nmass = "{mass}"\nat = {at}\nerror = {error}\n'
        for name, (mass, at, error) in told.items()
    )
    of = Study(Project.from_text(f'{BARE}{tables}\n[loads.usual]\ncarries = ["frame", "driver"]\n'))
    mass, mass_error = np.array([300.0, 90.0]), np.array([6.0, 2.0])
    at, at_error = np.array([[0.9, 0.02, 0.5], [0.7, -0.05, 0.9]]), np.array([[0.015], [0.030]])
    parts = parts_of(of.project, Footing(of.mechanism, of.assemblies, of.travels, of.heave))
    drawn = []
    for _ in range(400):
        burden = Burden(
            mass + mass_error * rng.standard_normal(2),
            at + at_error * rng.standard_normal((2, 3)),
            np.zeros(2),
            np.zeros((2, 3)),
        )
        drawn.append(stand_chassis(parts, burden).loads)
    covariance = of.chassis.covariance
    assert np.sqrt(np.diag(covariance)) == pytest.approx(np.std(drawn, axis=0), rel=0.15)
    assert math.sqrt(covariance.sum()) == pytest.approx(math.hypot(6, 2), rel=1e-6)
    correlation = np.corrcoef(np.array(drawn).T)
    sigma = np.sqrt(np.diag(covariance))
    assert covariance / np.outer(sigma, sigma) == pytest.approx(correlation, abs=0.15)


def test_the_origin_of_the_drawing_does_not_matter():
    def moved(text):
        def shifted(found):
            x, y, z = (float(each) for each in found.group(2).split(","))
            return f"{found.group(1)}[{x - 700:g}, {y:g}, {z + 250:g}]"

        return re.sub(r"(?m)^([\w-]+\s*=\s*)\[([-\d.]+,\s*[-\d.]+,\s*[-\d.]+)\]", shifted, text)

    text = (EXAMPLES / "peat-trailer.toml").read_text(encoding="utf-8")
    here = Study(Project.from_text(text)).chassis
    there = Study(Project.from_text(moved(text))).chassis
    assert there.loads == pytest.approx(here.loads, abs=1e-6)
    figures = [[each.coupling, each.heave, each.pitch, each.roll] for each in (here, there)]
    assert figures[1] == pytest.approx(figures[0], abs=1e-8)


def test_a_mirrored_load_stands_mirrored():
    left, right = (four_wheels(all=(300, (800, y, 700))).chassis for y in (60, -60))
    assert right.loads == pytest.approx(left.loads[[1, 0, 3, 2]], abs=1e-6)
    assert (right.pitch, right.roll) == pytest.approx((left.pitch, -left.roll), abs=1e-9)
