"""Tyres by scale and ruler in a vehicle: the rate and its ± by arithmetic, and what they do to the answers."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.project import edit

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "examples" / "swamp-buggy.toml").read_text(encoding="utf-8")
PAIR = "{ loads = [105, 155], heights = [400, 390.5] }"
RATE = 50 * 9.80665 / 9.5e-3


def study(tyre: str = PAIR, scale: str = "") -> Study:
    assert TEXT.count("tyre = 51.6\n") > 0
    return Study(Project.from_text(TEXT.replace("tyre = 51.6\n", f"tyre = {tyre}\n") + scale))


def tyre(of: Study):
    return next(iter(of.project.wheels.values())).tyre


def share(load: float, height: float) -> float:
    """Two readings of each: variances of both ends of a step of 50 kg and 9.5 mm."""
    return math.sqrt(2 * ((load / 50) ** 2 + (height / 9.5) ** 2))


def test_without_an_error_of_the_scale_two_readings_have_none() -> None:
    found = tyre(study())
    assert found.value == pytest.approx(RATE)
    assert found.error is None


def test_the_scales_error_and_a_millimetre_of_ruler() -> None:
    found = tyre(study(scale="\n[scale]\nerror = 0.5\n"))
    assert found.error / found.value == pytest.approx(share(0.5, 1))


def test_what_a_reading_states_itself_comes_first() -> None:
    own = '{ loads = ["105 ± 1 kg", "155 ± 1 kg"], heights = ["400 ± 0.5 mm", "390.5 ± 0.5 mm"] }'
    found = tyre(study(own, "\n[scale]\nerror = 0.5\n"))
    assert found.error / found.value == pytest.approx(share(1, 0.5))


def test_a_load_that_states_none_beside_one_that_does_leaves_the_scatter() -> None:
    found = tyre(study('{ loads = ["105 ± 1 kg", 155], heights = [400, 390.5] }'))
    assert found.error is None


def test_the_scatter_of_three_gives_it_where_nothing_is_stated() -> None:
    assert tyre(study("{ loads = [100, 110, 120], heights = [400, 395, 388] }")).error > 0


def test_every_wheel_is_filled_and_nothing_is_left_to_measure() -> None:
    of = study()
    assert all(wheel.tyre is not None and wheel.tyre_readings is None for wheel in of.project.wheels.values())
    assert set(of.measured.tyres) == set(of.project.wheels)
    assert all(wheel.tyre is None for wheel in of.file.wheels.values())


def test_readings_answer_as_the_number_does() -> None:
    """The same rate and ± typed: the same answers to the last bits."""
    scale = "\n[scale]\nerror = 0.5\n"
    read = study(scale=scale)
    number = study(f'"{tyre(read).value!r} ± {tyre(read).error!r} N/m"', scale)
    for name, wheel in read.answers.items():
        for key, answer in wheel.of.items():
            other = number.answers[name].of[key]
            assert answer.value == pytest.approx(other.value, rel=1e-9), key
            assert answer.error == pytest.approx(other.error, rel=1e-9), key


def test_the_error_of_the_tyre_widens_the_frequency_and_leaves_the_springs_alone() -> None:
    wheel = next(iter(study().answers))
    sharp, wide = (study(scale=s).answers[wheel].of for s in ("", "\n[scale]\nerror = 5\n"))
    errors = [of["ride_frequency"].error for of in (sharp, wide)]
    assert errors == sorted(errors, key=lambda error: error or 0.0)
    assert errors[0] != errors[1]
    assert wide["wheel_rate"].error == pytest.approx(sharp["wheel_rate"].error)


def test_a_file_whose_tyres_are_numbers_is_its_own_vehicle() -> None:
    of = study("51.6")
    assert of.project is of.file
    assert not of.measured.tyres


def test_under_another_load_set_the_tyre_stays() -> None:
    path = ROOT / "examples" / "step-free-buggy.toml"
    text = path.read_text(encoding="utf-8")
    wheel = next(iter(Project.from_text(text).wheels))
    value = {"loads": [40, 60], "heights": [300, 295]}
    text = edit.apply(text, [{"op": "set", "key": ["wheels", wheel, "tyre"], "value": value}])
    of = Study(Project.from_text(text))
    others = [name for name in of.sets if name != of.load_set]
    assert others
    for name in others:
        assert of.under(name).project.wheels[wheel].tyre.value == pytest.approx(20 * 9.80665 / 5e-3)
