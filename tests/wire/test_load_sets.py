"""`answers.load_sets`: each load set's answers in the units of the contract; nothing of it in a file without any."""

from __future__ import annotations

import json
import math
from pathlib import Path

import msgspec
import pytest

from leverwright import Project, Study
from leverwright.wire.load_sets import answers_under_each
from leverwright.wire.measure_weights import load_sets_of

FOLDER = Path(__file__).parents[2] / "examples"


def printed(name):
    return json.loads(msgspec.json.encode(answers_under_each(Study(Project.read(FOLDER / f"{name}.toml")))))


def test_a_file_without_load_sets_has_none_in_its_answers():
    assert set(printed("gravity-racer")) == {"wheels", "axles"}


def test_a_trailers_load_sets_say_loads_standing_and_coupling():
    answers = printed("peat-trailer")
    sets = answers["load_sets"]
    assert list(sets) == ["usual", "empty", "behind", "ahead"]
    assert [each["usual"] for each in sets.values()] == [True, False, False, False]
    assert sets["usual"]["wheels"] == answers["wheels"]
    assert sets["empty"]["loads"]["wheel-left"]["value"] == pytest.approx((95 - 7.8) / 2, abs=0.05)
    assert sets["empty"]["loads"]["wheel-left"]["unit"] == "kg"
    assert sets["usual"]["coupling"]["share"]["value"] == pytest.approx(8.7, abs=0.06)
    assert sets["usual"]["coupling"]["share"]["unit"] == "%"
    assert sets["usual"]["chassis"]["pitch"]["value"] == pytest.approx(-2.1, abs=0.07)
    assert "two" in sets["usual"]["chassis"]["cross_weight"]["because"]
    assert sets["usual"]["tipping"]["rigid"]["value"] is None
    assert "tows" in sets["usual"]["tipping"]["rigid"]["because"]


def test_a_buggys_load_sets_say_where_it_tips_with_what_is_known_of_its_height():
    usual = printed("step-free-buggy")["load_sets"]["usual"]
    assert usual["coupling"] is None
    tipping = usual["tipping"]
    assert tipping["leaning"]["value"] == pytest.approx(0.655, abs=0.001)
    assert tipping["slope"]["error"] == pytest.approx(
        math.degrees(tipping["leaning"]["error"] / (1 + 0.655**2)), rel=0.01
    )
    assert tipping["lean"]["value"] == pytest.approx(7.8, abs=0.05)
    assert (tipping["height"]["value"], tipping["height"]["error"]) == pytest.approx((720, 32), abs=1)
    assert usual["chassis"]["cross_weight"]["value"] == pytest.approx(50)
    # 0.5 kg at each of four wheels of 318 kg: all slopes are 0.5 / 318
    assert usual["chassis"]["cross_weight"]["error"] == pytest.approx(100 * 0.5 / 318 * 2 * 0.5)


def test_every_missing_figure_says_why():
    def missing(value):
        if isinstance(value, dict) and "unit" in value:
            yield value
        elif isinstance(value, dict):
            for each in value.values():
                yield from missing(each)

    for each in missing(printed("market-trike")["load_sets"]):
        assert each["value"] is not None or each["because"]


def test_a_trailers_centre_of_gravity_counts_what_its_coupling_carries():
    """(95 x 140 + 250 x 181) / 345 = 169.7 mm ahead of the axle; by its wheels alone it would lie on the axle."""
    sets = load_sets_of(Study(Project.read(FOLDER / "peat-trailer.toml")))
    assert sets["usual"].balance.ahead.value == pytest.approx(169.7, abs=0.1)


def test_cross_weight_is_not_told_where_a_wheel_stood_high():
    (only,) = load_sets_of(Study(Project.read(FOLDER / "swamp-buggy-weighed.toml"))).values()
    assert only.cross is None
    assert only.raised[0].wheel == "rear-left"
