"""The wordings that the page's own wording file is tested against."""

import json
import runpy

import pytest

import leverwright.quantity.cases
from leverwright.quantity import KINDS, say, say_ratio, say_travel
from leverwright.quantity.cases import wording_cases


def test_every_case_is_said_as_quantity_says_it():
    cases = wording_cases()
    assert set(cases) == {
        *(
            "ratio",
            "travel",
            "length",
            "force",
            "stiffness",
            "angle",
            "moment",
            "frequency",
            "percent",
            "mass",
        )
    }
    for row in cases["ratio"]:
        assert row["metric"] == say_ratio(row["value"])
        assert row["inch"] == say_ratio(row["value"], system="inch")
    for row in cases["travel"]:
        assert row["metric"] == say_travel(row["value"])
        assert row["inch"] == say_travel(row["value"], system="inch")
    for kind in KINDS:
        for row in cases.get(kind, []) if kind != "ratio" else []:
            assert row["metric"] == say(row["value"], kind)
            assert row["inch"] == say(row["value"], kind, system="inch")


def test_the_cases_reach_every_form_of_words():
    ratios = [row["metric"] for row in wording_cases()["ratio"]]
    for words in ("spring moves", "gets longer", "does not move", "1 : 333)", "1 : 12.5)", "1 : 1.56)"):
        assert any(words in ratio for ratio in ratios)
    lengths = [row["inch"] for row in wording_cases()["length"]]
    for words in ("0.0", "0 in", "1 in", "12 1/2 in", "-1 "):
        assert any(words in length for length in lengths)


def test_the_command_prints_the_cases_as_strict_json(capsys):
    runpy.run_path(leverwright.quantity.cases.__file__, run_name="__main__")
    printed = capsys.readouterr().out
    assert printed.isascii()
    assert json.loads(printed, parse_constant=pytest.fail) == wording_cases()
