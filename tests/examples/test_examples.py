"""Every example vehicle, with a number that comes from its story or from arithmetic on its drawing.

Set-up ratios are the arms' lengths multiplied; wheel rate = rate * ratio^2, frequency = sqrt(wheel rate
/ sprung) / 2 pi. Where the standing position is a few millimetres off the set-up pose, or the link's
lean adds a geometric term, the tolerance says 1 or 2 %.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.ride import alignment_of

FOLDER = Path(__file__).parents[2] / "examples"
EXAMPLES = sorted(path.stem for path in FOLDER.glob("*.toml"))
GRAVITY = 9.80665


def study(name, **hold):
    return Study(Project.read(FOLDER / f"{name}.toml"), hold)


def answer(of, name, wheel=None):
    """One answer in SI, of the only or the named wheel."""
    wheels = of.answers
    return wheels[wheel or next(iter(wheels))].of[name].value


def ratio_as_drawn(of, wheel=0, spring=0):
    """Spring movement by travel of all wheels alike, in the set-up pose."""
    (cycle, *_) = of.cycle("heave", asked=(-0.001, 0.001), poses=3)
    return float(cycle.posed.rates.ds_dz[1, spring].sum())


def toe_and_camber(of, mode="heave", asked=(None, None)):
    """Toe and camber [rad] of the first assembly's first wheel, and its travel [m]."""
    cycle = of.cycle(mode, asked=asked)[0]
    wheel = next(iter(of.project.wheels.values()))
    found = alignment_of(cycle.travels.track, cycle.posed, np.array([wheel.radius.value]))
    return found.toe[:, 0], found.camber[:, 0], cycle.posed.travel


def test_there_are_at_least_seven_flat_and_spatial_in_mm_and_inches():
    projects = [Project.read(FOLDER / f"{name}.toml") for name in EXAMPLES]
    assert len(projects) >= 7
    assert {project.plane for project in projects} >= {None, "xz"}
    assert sum('" in"' in p.text or ' in"' in p.text for p in projects) >= 1


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_says_on_top_that_it_is_invented(name):
    first = (FOLDER / f"{name}.toml").read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("#")
    assert "Invented" in first


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_stands_on_its_springs_and_agrees_with_its_back_check(name):
    of = study(name)
    sprung = [s for s, a in zip(of.standing, of.assemblies, strict=True) if a.assembly.layout.moving]
    assert [standing.on for standing in sprung] == ["springs"] * len(sprung)
    assert all(check.holds for check in of.back_check)


# The gravity racer: link at 320 of 400, rocker arms 45 and 90, 22 N/mm, 4 mm preload, 42 kg sprung.


def test_gravity_racer_as_drawn_is_four_times_too_stiff():
    of = study("gravity-racer")
    assert ratio_as_drawn(of) == pytest.approx(1.60, rel=0.005)
    assert answer(of, "wheel_rate") == pytest.approx(56.3e3, rel=0.01)
    assert answer(of, "ride_frequency_without_tyre") == pytest.approx(5.83, rel=0.01)
    assert answer(of, "sag") == pytest.approx(4.8e-3, abs=0.1e-3)
    assert answer(of, "sag_percent") == pytest.approx(0.15, abs=0.01)


def test_a_person_over_the_gravity_racers_axle_moves_it_6_5_mm():
    """75 kg over two such wheels."""
    assert 75 * GRAVITY / 2 / answer(study("gravity-racer"), "wheel_rate") == pytest.approx(6.5e-3, rel=0.01)


def test_gravity_racer_swapped_bottoms():
    """107 of 125 mm; that far from square the arms give a little less than the simple number."""
    of = study("gravity-racer-swapped")
    assert ratio_as_drawn(of) == pytest.approx(0.40, rel=0.005)
    assert answer(of, "sag") == pytest.approx(0.107, rel=0.015)
    assert answer(of, "sag_percent") == pytest.approx(0.86, abs=0.01)
    assert answer(of, "ride_frequency_without_tyre") == pytest.approx(1.46, rel=0.05)


def test_gravity_racer_with_equal_arms_is_right():
    of = study("gravity-racer-equal")
    assert ratio_as_drawn(of) == pytest.approx(0.80, rel=0.005)
    assert answer(of, "wheel_rate") == pytest.approx(14.1e3, rel=0.01)
    assert answer(of, "ride_frequency_without_tyre") == pytest.approx(2.91, rel=0.01)
    assert answer(of, "sag") == pytest.approx(24e-3, abs=0.5e-3)
    assert answer(of, "sag_percent") == pytest.approx(0.39, abs=0.01)


def test_swamp_buggys_springs_hardly_help_its_tyres():
    """48 N/mm at 1.12 is 60.2; with the tyre's 51.6 in series 27.8 on 110 kg: 2.53 Hz, hop 7.9 Hz."""
    of = study("swamp-buggy")
    assert ratio_as_drawn(of) == pytest.approx(1.12, rel=0.005)
    assert answer(of, "wheel_rate") == pytest.approx(60.2e3, rel=0.01)
    assert answer(of, "ride_frequency") == pytest.approx(2.53, rel=0.005)
    assert answer(of, "hop_frequency") == pytest.approx(7.9, rel=0.01)
    on_tyres_alone = math.sqrt(51_600 / 155) / (2 * math.pi)
    assert on_tyres_alone / answer(of, "ride_frequency") == pytest.approx(1.147, abs=0.01)


def test_camera_dolly_is_sprung_to_2_5_hz_and_made_worse():
    """7 kg a wheel: 1.727 N/mm is 2.5 Hz and 40 mm of sag; 1.67 jolts a second come out 1.8 times."""
    of = study("camera-dolly")
    frequency = answer(of, "ride_frequency_without_tyre")
    assert answer(of, "wheel_rate") == pytest.approx(1.727e3, rel=0.01)
    assert frequency == pytest.approx(2.5, rel=0.005)
    assert answer(of, "sag") == pytest.approx(40e-3, abs=0.5e-3)
    assert of.project.goals.excitation == pytest.approx((1 / 0.6, 1 / 0.6))
    assert 1 / (1 - (1 / 0.6 / frequency) ** 2) == pytest.approx(1.8, abs=0.01)


def test_camera_dolly_that_isolates_sags_179_mm():
    of = study("camera-dolly-isolated")
    assert ratio_as_drawn(of) == pytest.approx(0.080, rel=0.005)
    assert answer(of, "wheel_rate") == pytest.approx(0.384e3, rel=0.01)
    assert answer(of, "ride_frequency_without_tyre") == pytest.approx(1.18, rel=0.005)
    assert answer(of, "sag") == pytest.approx(0.179, rel=0.01)
    assert 25 * 0.080 / answer(of, "wheel_rate") == pytest.approx(5.2e-3, rel=0.01)


def test_orchard_carts_torsion_bar_gives_35_4_n_per_mm():
    """11 N·m/deg = 630.3 N·m/rad; 0.6 / 0.08 = 7.5 rad for each metre of wheel: 630.3 * 7.5^2 = 35.45e3 N/m."""
    of = study("orchard-cart")
    assert answer(of, "wheel_rate") == pytest.approx(35.45e3, rel=0.01)
    assert answer(of, "ride_frequency_without_tyre") == pytest.approx(2.560, rel=0.005)
    assert answer(of, "standing_travel") == pytest.approx(0.0, abs=0.5e-3)  # 1344 N on 137 kg


def test_orchard_carts_chain_stops_it_before_dead_centre():
    """52 mm of slack at 430 of 500: the wheel rises by 52 * 500 / 430 = 60.5 mm."""
    end = study("orchard-cart").heave[0].travels.range.bump
    assert end.why == "strap taut"
    assert end.travel == pytest.approx(60.5e-3, rel=0.02)


def test_kindling_carts_air_shock_is_28_n_per_mm_where_it_stands():
    """22 mm in: between the marks (780 - 500) / 10 = 28 N/mm; 0.6 * 100 / 80 = 0.75, squared: 15.75 N/mm."""
    of = study("kindling-cart")
    assert ratio_as_drawn(of) == pytest.approx(0.75, rel=0.005)
    assert answer(of, "wheel_rate") == pytest.approx(15.75e3, rel=0.02)


def test_cargo_trikes_rocker_on_the_arm_levers_0_81():
    """150 / 500 * (50 + 85) / 50 = 0.81; 28 N/mm * 0.81^2 = 18.37 N/mm."""
    of = study("cargo-trike")
    assert ratio_as_drawn(of) == pytest.approx(0.81, rel=0.005)
    assert answer(of, "wheel_rate") == pytest.approx(18.37e3, rel=0.01)


def test_forest_buggys_leaning_link_takes_its_cosine():
    """Link at 10 of 12 1/2, leaning atan(10 / 17.32) = 30 deg, rocker 3.7 / 3.4: 0.8 * 0.866 * 1.088 = 0.754."""
    assert ratio_as_drawn(study("forest-buggy")) == pytest.approx(0.754, rel=0.005)


def test_forest_buggys_parallel_toe_link_steers_nothing():
    toe, camber, travel = toe_and_camber(study("forest-buggy"))
    assert max(abs(toe)) < math.radians(0.05)
    assert camber[-1] < 0  # the shorter upper arm pulls the top in on bump
    assert travel[-1] > 0.060


def test_trail_karts_rack_steers_as_its_arm_is_long():
    """Steering arm 82 ahead of the lower ball: 20 mm of rack is about asin(20 / 82) = 14.1 deg at that wheel."""
    turned, *_ = toe_and_camber(study("trail-kart-front", **{"rack-left": 0.020, "rack-right": 0.020}))
    straight, *_ = toe_and_camber(study("trail-kart-front"))
    middle = len(straight) // 2
    assert abs(math.degrees(turned[middle] - straight[middle])) == pytest.approx(14.1, rel=0.1)


def test_trail_kart_steers_itself_by_less_than_half_a_degree_in_50_mm():
    toe, _, travel = toe_and_camber(study("trail-kart-front"), asked=(-0.025, 0.025))
    assert travel[-1] - travel[0] == pytest.approx(0.050)
    assert max(toe) - min(toe) < math.radians(0.5)


def test_hay_trailers_axle_rises_rolls_and_lifts_one_wheel():
    """Rocker 84 / 120 = 0.70 together. One wheel: tab at 500, wheel at 640 from the middle: 0.70 * 1140 / 1280
    = 0.623 on its own spring and 0.70 * 140 / 1280 = 0.077 on the other. 60 N/mm: 29.4 and 23.7 N/mm."""
    of = study("hay-trailer")
    assert ratio_as_drawn(of) == pytest.approx(0.70, rel=0.005)
    assert answer(of, "heave_rate") == pytest.approx(29.4e3, rel=0.01)
    assert answer(of, "wheel_rate") == pytest.approx(23.66e3, rel=0.015)
    ratios = of.answers["axle-left"].motion_ratio
    assert ratios["spring-left"].value == pytest.approx(0.6234, rel=0.01)
    assert ratios["spring-right"].value == pytest.approx(0.0766, rel=0.02)


def test_hay_trailers_roll_rate_is_that_of_its_spring_bases():
    """2 * 60 kN/m * (0.70 * 0.500 m)^2 = 14.7 kN·m/rad."""
    (axle,) = study("hay-trailer").axles
    assert axle.roll_rate.value == pytest.approx(14.7e3, rel=0.03)


def test_hay_trailer_rolls_until_a_strap_is_taut():
    """The strap hangs at 500 of 640 and is slack by 30 as drawn: the wheel falls by 30 * 640 / 500 = 38.4 mm."""
    (cycle,) = study("hay-trailer").cycle("roll")
    assert cycle.posed.travel[-1] == pytest.approx(0.0384, rel=0.02)
    assert cycle.posed.travel[0] == pytest.approx(-0.0384, rel=0.02)
    ends = cycle.travels.range
    assert ends.bump.why == ends.droop.why == "strap taut"
