"""In what order faults are reported, and how many."""

import pytest

from leverwright.project import Draft
from leverwright.project.faultlist import MOST_FAULTS, near_name
from tests.project.vehicle_texts import WHOLE

# One fault of each rank, later lines first, so that order by line alone would fail.
LIMIT = ('title = "Garden cart"', f'title = "{"x" * 201}"')
SYNTAX = ("[goals]", "[goals")
UNKNOWN = ("brake = ", "brakes = ")
TYPE = ("tyre = 90", "tyre = -90")
MISSING = ("twist = 4\n", "")
DANGLING = ('shock = "rubber"', 'shock = "ruber"')
GEOMETRY = ("length_closed = 246", "length_closed = 346")
RANKED = [UNKNOWN, TYPE, MISSING, DANGLING, GEOMETRY]
KEYS = [
    "wheels.front-left.brakes",
    "wheels.front-left.tyre",
    "springs.twist-left.twist",
    "springs.gas-left.shock",
    "shocks.salvaged.length_closed",
]


def _spoilt(*changes):
    text = WHOLE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def test_faults_come_by_rank_then_by_line():
    assert [fault.key for fault in Draft.from_text(_spoilt(*RANKED)).faults] == KEYS


@pytest.mark.parametrize("first", range(len(RANKED)))
def test_each_rank_is_reported_before_those_after_it(first):
    assert Draft.from_text(_spoilt(*RANKED[first:])).faults[0].key == KEYS[first]


def test_a_limit_is_reported_before_all_that_parses():
    assert [fault.key for fault in Draft.from_text(_spoilt(LIMIT, *RANKED)).faults] == ["title", *KEYS]


def test_a_limit_is_found_before_the_syntax():
    deep = Draft.from_text(_spoilt(SYNTAX) + "\nx = " + "[" * 9).faults
    assert [(fault.line, fault.key, fault.allowed) for fault in deep] == [(None, None, "8 levels")]


def test_a_fault_of_syntax_is_the_only_one():
    faults = Draft.from_text(_spoilt(SYNTAX, *RANKED)).faults
    assert [(fault.line, fault.key) for fault in faults] == [(91, "goals")]


def test_another_version_is_the_only_fault():
    faults = Draft.from_text(_spoilt(("leverwright = 1 ", "leverwright = 2 "), *RANKED)).faults
    assert [fault.key for fault in faults] == ["leverwright"]


def test_two_faults_of_a_rank_come_by_line():
    text = WHOLE.replace("load = 62\n", "load = -1\n").replace("gas = 60", "gas = -1")
    assert [fault.key for fault in Draft.from_text(text).faults] == [
        "shocks.salvaged.gas",
        "wheels.front-left.load",
    ]


def test_only_so_many_faults_are_listed():
    names = "".join(f"a-point-{at} = 1\n" for at in range(MOST_FAULTS + 5))
    assert len(Draft.from_text("leverwright = 1\n[points]\n" + names).faults) == MOST_FAULTS


def test_what_cannot_be_read_makes_no_name_dangle():
    text = WHOLE.replace("[398, 250, 265]", '["x", 250, 265]')
    assert [fault.key for fault in Draft.from_text(text).faults] == ["points.spring-hole-left"]


def test_what_cannot_be_read_leaves_no_point_lonely():
    text = WHOLE.replace('handlebar   = ["head-top", "head-low"]', "handlebar   = 3").replace(
        '"head-top", "head-low", "panhard', '"panhard'
    )
    assert [fault.key for fault in Draft.from_text(text).faults] == ["bodies.handlebar"]


@pytest.mark.parametrize(
    ("wrong", "meant"),
    [
        ("radus", "radius"),
        ("Radius", "radius"),
        ("RADIUS", "radius"),
        ("centr", "centre"),
        ("zzz", None),
        ("", None),
    ],
)
def test_the_nearest_name(wrong, meant):
    assert near_name(wrong, ["radius", "centre", "load"]) == meant


@pytest.mark.parametrize(
    ("wrong", "meant"),
    [
        ("spring-eye-left", None),
        ("pivot-rear-left", None),
        ("link-hol-left", "link-hole-left"),
        ("link-hole-lef", "link-hole-left"),
        ("link-hole", "link-hole-left"),
        ("link-hol-right", "link-hole-right"),
    ],
)
def test_names_of_a_side_are_compared_without_it(wrong, meant):
    assert near_name(wrong, ["pivot-front-left", "link-hole-left", "link-hole-right"]) == meant
