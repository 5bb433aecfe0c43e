"""Quantities as sentences say them; each expected figure can be worked out by hand."""

import math

import pytest

from leverwright.quantity import (
    fixed,
    say,
    say_between,
    say_inches,
    say_mark,
    say_ratio,
    say_travel,
    say_twist_ratio,
    shown_unit,
)

MM = 1e-3


@pytest.mark.parametrize(
    ("mm", "metric", "inch", "mark"),
    [
        (43, "43 mm", "1 11/16 in", "1 11/16 in (0.1 mm over)"),  # 1 11/16 in is 42.8625 mm
        (42.7, "43 mm", "1 11/16 in", "1 11/16 in (0.2 mm under)"),
        (319.7, "320 mm", "12 19/32 in", "12 19/32 in (0.2 mm under)"),  # 12 19/32 in is 319.88125 mm
        (317.5, "318 mm", "12 1/2 in", "12 1/2 in"),
        (25.4, "25 mm", "1 in", "1 in"),
        (25.37, "25 mm", "1 in", "1 in"),
        (25.344, "25 mm", "1 in", "1 in (0.1 mm under)"),
        (6.4, "6.4 mm", "1/4 in", "1/4 in (0.1 mm over)"),  # 1/4 in is 6.35 mm: 0.05 left, said as 0.1
        (6.35, "6.3 mm", "1/4 in", "1/4 in"),  # 6.35 in binary lies under the half
        (0.79375, "0.8 mm", "1/32 in", "1/32 in"),
        (9.94, "9.9 mm", "13/32 in", "13/32 in (0.4 mm under)"),  # 3/8 in is 9.525, 13/32 in 10.31875 mm
        (9.96, "10 mm", "13/32 in", "13/32 in (0.4 mm under)"),
        (0.64, "0.6 mm", "0.025 in", "1/32 in (0.2 mm under)"),  # under 1/32 in: thousandths
        (0.1, "0.1 mm", "0.004 in", "0 in (0.1 mm over)"),
        (0.09, "0.09 mm", "0.004 in", "0 in (0.1 mm over)"),
        (0.012, "0.01 mm", "0 in", "0 in"),
        (0.001, "0 mm", "0 in", "0 in"),
        (0, "0 mm", "0 in", "0 in"),
        (-0.0, "0 mm", "0 in", "0 in"),
        (-0.001, "0 mm", "0 in", "0 in"),
        (-0.1, "-0.1 mm", "-0.004 in", "0 in (0.1 mm over)"),
        (-42.7, "-43 mm", "-1 11/16 in", "-1 11/16 in (0.2 mm under)"),
        (1234, "1234 mm", "48 19/32 in", "48 19/32 in (0.3 mm under)"),
    ],
)
def test_a_length_without_an_error(mm, metric, inch, mark):
    assert say(mm * MM, "length") == metric
    assert say(mm * MM, "length", system="inch") == inch
    assert say_inches(mm * MM) == inch
    assert say_mark(mm * MM) == mark


@pytest.mark.parametrize(
    ("value", "kind", "metric", "inch"),
    [
        (62, "mass", "62 kg", "137 lb"),
        (62.5, "mass", "62.5 kg", "138 lb"),
        (0.4, "mass", "0.4 kg", "0.9 lb"),
        (412, "force", "412 N", "93 lbf"),
        (9.94, "force", "9.9 N", "2.2 lbf"),
        (1234.5, "force", "1235 N", "278 lbf"),
        (-88.4, "force", "-88 N", "-20 lbf"),
        (17500, "stiffness", "17.5 N/mm", "99.9 lbf/in"),
        (3520, "stiffness", "3.52 N/mm", "20.1 lbf/in"),
        (384, "stiffness", "0.38 N/mm", "2.19 lbf/in"),
        (123400, "stiffness", "123 N/mm", "705 lbf/in"),
        (99960, "stiffness", "100 N/mm", "571 lbf/in"),
        (9996, "stiffness", "10 N/mm", "57.1 lbf/in"),
        (math.radians(33.44), "angle", "33.4 deg", "33.4 deg"),
        (math.radians(120), "angle", "120 deg", "120 deg"),
        (math.degrees(12), "torsion", "12 N·m/deg", "8.85 lbf·ft/deg"),
        (40, "moment", "40 N·m", "29.5 lbf·ft"),
        (2.5, "frequency", "2.50 Hz", "2.50 Hz"),
        (12.34, "frequency", "12.3 Hz", "12.3 Hz"),
        (1, "speed", "1 m/s", "2.24 mph"),
        (0.64, "ratio", "0.64", "0.64"),
        (0.8, "ratio", "0.80", "0.80"),
        (0.08, "ratio", "0.080", "0.080"),
        (0.39, "percent", "39 %", "39 %"),
        (0.082, "percent", "8.2 %", "8.2 %"),
        (1, "percent", "100 %", "100 %"),
    ],
)
def test_a_value_without_an_error(value, kind, metric, inch):
    assert say(value, kind) == metric
    assert say(value, kind, system="inch") == inch


@pytest.mark.parametrize(
    ("value", "error", "kind", "said"),
    [
        (0.0265, 0.00125, "length", "between 24 and 29 mm"),
        (0.0265, 0.001, "length", "between 24 and 29 mm"),  # 24.5 and 28.5, outward
        (0.04334, 0.0003, "length", "between 42.7 and 44.0 mm"),  # 42.74 and 43.94
        (0.043, 0.012, "length", "between 10 and 70 mm"),  # 19 and 67
        (0.043, 0.0002, "length", "43 mm"),  # 0.8 mm wide: under the millimetre that is said
        (0.043, 0.00025, "length", "between 42.5 and 43.5 mm"),
        (0.043, 0.0, "length", "43 mm"),
        (0.001, 0.002, "length", "between -3 and 5 mm"),
        (-0.0265, 0.00125, "length", "between -29 and -24 mm"),
        (2.91, 0.11, "frequency", "between 2.6 and 3.2 Hz"),  # 2.69 and 3.13
        (17500, 700, "stiffness", "between 16.1 and 18.9 N/mm"),
        (0.39, 0.03, "percent", "between 33 and 45 %"),
        (0.64, 0.02, "ratio", "between 0.60 and 0.68"),
        (0.64, 0.0022, "ratio", "0.64"),  # 0.0044 either way: under half of the hundredth that is said
        (62, 0.5, "mass", "between 61.0 and 63.0 kg"),
        (155, 3, "mass", "between 149 and 161 kg"),
        (412, 100, "force", "between 200 and 700 N"),  # 212 and 612
    ],
)
def test_a_value_with_an_error_is_said_as_two_ends(value, error, kind, said):
    assert say(value, kind, error=error) == said


@pytest.mark.parametrize(
    ("mm", "error_mm", "said"),
    [
        (26.5, 1.25, "between 15/16 and 1 5/32 in"),  # 24 and 29 mm: 30.2 and 36.5 marks
        (26.5, 0.198, "1 1/32 in"),  # 0.396 mm either way: under half of the 1/32 in that is said
        (26.5, 0.199, "between 1 and 1 1/16 in"),  # 26.1 and 26.9 mm: 32.9 and 33.9 marks
        (0.5, 0.01, "between 0 and 1/32 in"),
        (43, 3.2, "between 1 3/8 and 2 in"),  # to 1/8: 36.6 and 49.4 mm
        (43, 1.59, "between 1 9/16 and 1 7/8 in"),  # to 1/16: 39.82 and 46.18 mm
        (0, 1.59, "between -3/16 and 3/16 in"),  # to 1/16: 3.18 mm is over 2/16
        (-43, 60, "between -7 and 4 in"),  # to 1 in: -163 and 77 mm
        (-19.05, 0.199, "between -25/32 and -23/32 in"),
    ],
)
def test_a_length_in_inches_with_an_error_is_said_as_two_marks(mm, error_mm, said):
    assert say(mm * MM, "length", system="inch", error=error_mm * MM) == said


def test_other_kinds_in_inch_units_with_an_error():
    assert say(17500, "stiffness", system="inch", error=700) == "between 91 and 108 lbf/in"  # 91.9 and 107.9
    assert say(62, "mass", system="inch", error=1) == "between 132 and 142 lb"  # 132.3 and 141.1


@pytest.mark.parametrize(
    ("low", "high", "kind", "metric", "inch"),
    [
        (0.024, 0.029, "length", "between 24 and 29 mm", "between 15/16 and 1 5/32 in"),
        (0.029, 0.024, "length", "between 24 and 29 mm", "between 15/16 and 1 5/32 in"),
        (0.029, 0.029, "length", "between 29.00 and 29.00 mm", "between 1 1/8 and 1 5/32 in"),
        (1.46, 2.91, "frequency", "between 1.4 and 3.0 Hz", "between 1.4 and 3.0 Hz"),
        (0.5, 0.7, "ratio", "between 0.50 and 0.70", "between 0.50 and 0.70"),
        (0, math.inf, "length", "not a number", "not a number"),
        (math.nan, 1, "length", "not a number", "not a number"),
    ],
)
def test_two_ends(low, high, kind, metric, inch):
    assert say_between(low, high, kind) == metric
    assert say_between(low, high, kind, system="inch") == inch


def test_what_is_not_a_number_is_said_so():
    assert say(math.nan, "length") == "not a number"
    assert say(math.inf, "mass") == "not a number"
    assert say(0.043, "length", error=math.inf) == "not a number"
    assert say(0.043, "length", error=math.nan) == "not a number"
    assert say_ratio(math.nan) == "not a number"


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [
        (43, "+43 mm", "+1 11/16 in"),
        (0.3, "+0.3 mm", "+0.012 in"),
        (-30, "-30 mm", "-1 3/16 in"),
        (0, "0 mm", "0 in"),
        (0.001, "0 mm", "0 in"),
    ],
)
def test_a_travel_carries_its_sign(mm, metric, inch):
    assert say_travel(mm * MM) == metric
    assert say_travel(mm * MM, system="inch") == inch


def test_a_travel_with_an_error_is_said_as_two_ends():
    assert say_travel(0.0265, error=0.00125) == "between 24 and 29 mm"
    assert say_travel(0.0265, error=0.00125, system="inch") == "between 15/16 and 1 5/32 in"
    assert say_travel(-0.0265, error=0.00125) == "between -29 and -24 mm"


@pytest.mark.parametrize(
    ("ratio", "said"),
    [
        (0.64, "0.64 (spring moves 6.4 mm for 10 mm of wheel; 1 : 1.56)"),
        (1.6, "1.60 (spring moves 16.0 mm for 10 mm of wheel; 1 : 0.63)"),
        (1, "1.00 (spring moves 10.0 mm for 10 mm of wheel; 1 : 1.00)"),
        (0.08, "0.080 (spring moves 0.80 mm for 10 mm of wheel; 1 : 12.5)"),
        (0.003, "0.003 (spring moves 0.03 mm for 10 mm of wheel; 1 : 333)"),
        (0.1002, "0.10 (spring moves 1.0 mm for 10 mm of wheel; 1 : 9.98)"),
        (0.1, "0.10 (spring moves 1.0 mm for 10 mm of wheel; 1 : 10.0)"),
        (0.01002, "0.010 (spring moves 0.10 mm for 10 mm of wheel; 1 : 99.8)"),
        (0.01, "0.010 (spring moves 0.10 mm for 10 mm of wheel; 1 : 100)"),
        (0, "0.000 (spring does not move with the wheel)"),
        (-0.0004, "0.000 (spring does not move with the wheel)"),
        (-0.4, "-0.40 (spring gets longer, the wrong way, by 4.0 mm for 10 mm of bump; 1 : 2.50)"),
    ],
)
def test_a_ratio_is_said_in_both_readings(ratio, said):
    assert say_ratio(ratio) == said


@pytest.mark.parametrize(
    ("twist", "error", "metric", "inch"),
    [
        (
            7.5,
            None,
            "twists 4.3 deg for 10 mm of wheel",
            "twists 10.9 deg for 1 in of wheel",
        ),  # 0.075, 0.1905 rad
        (
            -7.5,
            None,
            "unwinds 4.3 deg for 10 mm of bump, the wrong way",
            "unwinds 10.9 deg for 1 in of bump, the wrong way",
        ),
        (0.0, None, "twists 0 deg for 10 mm of wheel", "twists 0 deg for 1 in of wheel"),
        (-0.01, None, "twists 0 deg for 10 mm of wheel", "twists 0 deg for 1 in of wheel"),
        (
            7.5,
            0.25,
            "twists between 4.0 and 4.6 deg for 10 mm of wheel",
            "twists between 10.1 and 11.7 deg for 1 in of wheel",
        ),
        (math.inf, None, "not a number", "not a number"),
        (7.5, math.nan, "not a number", "not a number"),
    ],
)
def test_a_twist_for_each_travel(twist, error, metric, inch):
    assert say_twist_ratio(twist, error=error) == metric
    assert say_twist_ratio(twist, system="inch", error=error) == inch


def test_a_ratio_in_inches():
    assert say_ratio(0.64, system="inch") == "0.64 (spring moves 0.64 in for 1 in of wheel; 1 : 1.56)"
    assert (
        say_ratio(-0.4, system="inch")
        == "-0.40 (spring gets longer, the wrong way, by 0.40 in for 1 in of bump; 1 : 2.50)"
    )


@pytest.mark.parametrize(
    ("ratio", "error", "system", "said"),
    [
        (
            0.64,
            0.01,
            "metric",
            "between 0.62 and 0.66 (spring moves 6.2 to 6.6 mm for 10 mm of wheel; 1 : 1.52 to 1 : 1.61)",
        ),
        (
            0.64,
            0.01,
            "inch",
            "between 0.62 and 0.66 (spring moves 0.62 to 0.66 in for 1 in of wheel; 1 : 1.52 to 1 : 1.61)",
        ),
        (
            0.64,
            0.1,
            "metric",
            "between 0.4 and 0.9 (spring moves 4 to 9 mm for 10 mm of wheel; 1 : 1.11 to 1 : 2.50)",
        ),
        (
            0.64,
            0.1,
            "inch",
            "between 0.4 and 0.9 (spring moves 0.4 to 0.9 in for 1 in of wheel; 1 : 1.11 to 1 : 2.50)",
        ),
        (
            -0.4,
            0.01,
            "metric",
            (
                "between -0.42 and -0.38 "
                "(spring gets longer, the wrong way, by 3.8 to 4.2 mm"
                " for 10 mm of bump; 1 : 2.38 to 1 : 2.63)"
            ),
        ),
        (
            -0.4,
            0.01,
            "inch",
            (
                "between -0.42 and -0.38 "
                "(spring gets longer, the wrong way, by 0.38 to 0.42 in"
                " for 1 in of bump; 1 : 2.38 to 1 : 2.63)"
            ),
        ),
        (0.01, 0.02, "metric", "between -0.03 and 0.05 (not sure which way the spring moves)"),
        (0.02, 0.01, "metric", "between 0.00 and 0.04 (not sure which way the spring moves)"),
        (-0.02, 0.01, "metric", "between -0.04 and 0.00 (not sure which way the spring moves)"),
        (
            5,
            1.2,
            "metric",
            "between 2 and 8 (spring moves 20 to 80 mm for 10 mm of wheel; 1 : 0.13 to 1 : 0.50)",
        ),
        (
            12,
            0.01,
            "metric",
            (
                "between 11.98 and 12.02 "
                "(spring moves 119.8 to 120.2 mm"
                " for 10 mm of wheel; 1 : 0.08 to 1 : 0.08)"
            ),
        ),
        (0.64, 0.002, "metric", "0.64 (spring moves 6.4 mm for 10 mm of wheel; 1 : 1.56)"),
        (
            0.64,
            0.0025,
            "metric",
            "between 0.635 and 0.645 (spring moves 6.35 to 6.45 mm for 10 mm of wheel; 1 : 1.55 to 1 : 1.57)",
        ),
        (0.64, math.inf, "metric", "not a number"),
    ],
)
def test_a_ratio_with_an_error_is_said_as_two_ends(ratio, error, system, said):
    assert say_ratio(ratio, system=system, error=error) == said


@pytest.mark.parametrize(
    ("number", "decimals", "said"),
    [
        (0.625, 2, "0.63"),  # toFixed: the larger of two equally near
        (-0.625, 2, "-0.63"),
        (2.5, 0, "3"),
        (1.005, 2, "1.00"),  # its binary value is under the half
        (-0.001, 2, "0.00"),
        (0.0, 0, "0"),
        (1e21, 0, "1000000000000000000000"),
        (1234.5678, 3, "1234.568"),
    ],
)
def test_a_number_is_rounded_as_a_browser_rounds_it(number, decimals, said):
    assert fixed(number, decimals) == said


def test_the_unit_of_each_system():
    assert [shown_unit(kind).symbol for kind in ("length", "stiffness", "mass")] == ["mm", "N/mm", "kg"]
    assert [shown_unit(kind, "inch").symbol for kind in ("length", "stiffness", "mass")] == [
        "in",
        "lbf/in",
        "lb",
    ]
