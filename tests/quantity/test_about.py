"""Figures of places that nothing measured: about, two figures at most, and where they come from."""

from __future__ import annotations

import math
import re

import pytest

from leverwright.quantity import say_about, say_about_ratio, say_about_travel, say_about_twist_ratio

MM = 1e-3


@pytest.mark.parametrize(
    ("value", "kind", "said"),
    [
        (176.4 * MM, "length", "about 180 mm (from the sketch)"),
        (87.2 * MM, "length", "about 87 mm (from the sketch)"),
        (6.04 * MM, "length", "about 6 mm (from the sketch)"),
        (0.0, "length", "about 0 mm (from the sketch)"),
        (9680.0, "stiffness", "about 9.7 N/mm (from the sketch)"),
        (math.radians(27.14), "angle", "about 27 deg (from the sketch)"),
        (0.996, "percent", "about 100 % (from the sketch)"),  # of 1: 99.6 % in two figures
    ],
)
def test_two_figures_are_said_at_most(value: float, kind: str, said: str) -> None:
    assert say_about(value, kind) == said  # type: ignore[arg-type]  # a kind of the table


def test_inches_are_decimal_and_as_few() -> None:
    assert say_about(87.2 * MM, "length", system="inch") == "about 3.4 in (from the sketch)"  # 3.43


def test_a_travel_keeps_its_sign() -> None:
    assert say_about_travel(66.3 * MM) == "about +66 mm (from the sketch)"
    assert say_about_travel(-30.2 * MM) == "about -30 mm (from the sketch)"
    assert say_about_travel(0.0) == "about 0 mm (from the sketch)"


def test_a_ratio_says_both_readings_in_two_figures() -> None:
    said = "about 0.61 (from the sketch; spring moves 6.1 mm for 10 mm of wheel; 1 : 1.6)"
    assert say_about_ratio(0.6104) == said  # 1 / 0.6104 = 1.638
    assert say_about_ratio(-1.234, system="inch").startswith(
        "about -1.2 (from the sketch; spring gets longer"
    )
    assert say_about_ratio(0.0) == "about 0 (from the sketch; spring does not move with the wheel)"


def test_a_twist_is_rough_too() -> None:
    turn = math.radians(4.34) / 0.01  # rad per m of wheel
    assert say_about_twist_ratio(turn) == "about 4.3 deg (from the sketch; twists so far for 10 mm of wheel)"
    assert "the wrong way" in say_about_twist_ratio(-turn)


@pytest.mark.parametrize("value", [0.0123, 0.996, 1.04, 56.78, 123456.0])
def test_no_figure_has_more_than_two(value: float) -> None:
    for number in re.findall(r"\d+(?:\.\d+)?", say_about_ratio(value).split("(")[0]):
        assert len(number.replace(".", "").strip("0")) <= 2
