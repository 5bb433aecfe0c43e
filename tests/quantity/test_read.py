"""What a builder writes is read as the tape or the label says it."""

import pytest

from leverwright.quantity import KINDS, SURFACE_UNIT, UNITS, Quantity, from_surface, read_quantity, to_surface

MM = 1e-3


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 1/2 in", 317.5),
        ('12-1/2"', 317.5),
        ('12.5"', 317.5),
        ("12.5in", 317.5),
        ("12.5 inches", 317.5),
        ("12 in.", 304.8),
        ("1' 0 1/2\"", 317.5),
        ("1' 0-1/2\"", 317.5),
        ("1'-0 1/2\"", 317.5),
        ("1' 1/2\"", 317.5),
        ("1' 0 1/2", 317.5),
        ("1' 0.5\"", 317.5),
        ("5 ft 3 in", 1600.2),
        ("5ft 3in", 1600.2),
        ("5'", 1524),
        ("1' 11\"", 584.2),
        ("2' 3.25''", 692.15),
        ("12 1/2″", 317.5),
        ("1\N{RIGHT SINGLE QUOTATION MARK} 0 1/2\N{RIGHT DOUBLE QUOTATION MARK}", 317.5),
        ("1\N{PRIME} 6\N{PRIME}\N{PRIME}", 457.2),
        ("3/4 in", 19.05),
        ("5/4 in", 31.75),
        ("-3/4 in", -19.05),
        ("\N{MINUS SIGN}12 1/2 in", -317.5),
        ("- 1' 6\"", -457.2),
        ("+43", 43),
        ("318", 318),
        (" 318 mm ", 318),
        ("318\N{NO-BREAK SPACE}mm", 318),
        ("31.8 cm", 318),
        ("0.318 m", 318),
        (".5 in", 12.7),
        ("1' .5\"", 317.5),
        ("3/1 in", 76.2),
        ("1/1 in", 25.4),
        ("0e5", 0),
        ("5.", 5),
        ("1e3 mm", 1000),
        ("1E+3 mm", 1000),
        ("2.5e-1 m", 250),
        ("007", 7),
        (318, 318),
        (318.5, 318.5),
        (0, 0),
    ],
)
def test_a_length_as_written(text, mm):
    assert read_quantity(text, "length").value == pytest.approx(mm * MM, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("95 lb/in", "stiffness", 95 * 175.12683524647636),
        ("95 lbs/in", "stiffness", 95 * 175.12683524647636),
        ("95 lbf / in", "stiffness", 95 * 175.12683524647636),
        ('95 lb/"', "stiffness", 95 * 175.12683524647636),
        ("2 kg/mm", "stiffness", 19613.3),
        ("12 Nm", "moment", 12),
        ("12 N*m", "moment", 12),
        ("12 N m", "moment", 12),
        ("12 N-m", "moment", 12),
        ("12 N.m", "moment", 12),
        ("12 N⋅m", "moment", 12),
        ("30 ft-lb", "moment", 30 * 1.3558179483314004),
        ("30 lbf ft", "moment", 30 * 1.3558179483314004),
        ("1 N*m/deg", "torsion", 57.29577951308232),
        ("1 Nm/°", "torsion", 57.29577951308232),
        ("180°", "angle", 3.141592653589793),
        ("30 %", "percent", 0.3),
        ("30", "percent", 0.3),
        (30, "percent", 0.3),
        ("1/2", "ratio", 0.5),
        ("0.64", "ratio", 0.64),
        ("62 1/2", "mass", 62.5),
        ("1.5 Hz", "frequency", 1.5),
    ],
)
def test_a_unit_as_the_trade_writes_it(text, kind, value):
    assert read_quantity(text, kind).value == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "kind", "value", "error"),
    [
        ("312 ± 1 mm", "length", 0.312, 0.001),
        ("312 +/- 1 mm", "length", 0.312, 0.001),
        ("312 mm ± 1", "length", 0.312, 0.001),
        ("312 mm±1/16in", "length", 0.312, 0.0015875),
        ("312 ± 1", "length", 0.312, 0.001),
        ("12 1/2 ± 1/16 in", "length", 0.3175, 0.0015875),
        ('12 1/2" ± 1/16', "length", 0.3175, 0.0015875),
        ("1' 6\" ± 1/2", "length", 0.4572, 0.0127),
        ("95 lbf/in ± 10 %", "stiffness", 95 * 175.12683524647636, 9.5 * 175.12683524647636),
        ("17.5 ± 10 %", "stiffness", 17500, 1750),
        ("-20 mm ± 10 %", "length", -0.02, 0.002),
        ("30 ± 2 %", "percent", 0.3, 0.02),
        ("30 % ± 2", "percent", 0.3, 0.02),
        ("0.64 ± 5 %", "ratio", 0.64, 0.032),
        ("0.64 ± 0.02", "ratio", 0.64, 0.02),
        ("0 ± 1 mm", "length", 0.0, 0.001),
        ("0 ± 0 %", "stiffness", 0.0, 0.0),
        ("5 ± 0", "length", 0.005, 0.0),
    ],
)
def test_an_uncertainty_as_written(text, kind, value, error):
    read = read_quantity(text, kind)
    assert read.value == pytest.approx(value, rel=1e-14)
    assert read.error == pytest.approx(error, rel=1e-14)
    assert read.kind == kind


def test_a_length_without_an_uncertainty_states_none():
    assert read_quantity("312 mm", "length") == Quantity(0.312, None, "length")
    assert read_quantity(312, "length") == Quantity(0.312, None, "length")


@pytest.mark.parametrize("raw", ["-0", "-0.0 mm", "\N{MINUS SIGN}0 in", -0.0, "0 ± -0"])
def test_zero_has_no_sign(raw):
    read = read_quantity(raw, "length")
    assert str(read.value) == "0.0"
    assert str(read.error) in ("None", "0.0")


def test_a_millimetre_number_is_the_float_nearest_to_its_metres():
    # 43 * 0.001 is 0.043000000000000003, which shows in an answer printed unrounded.
    assert [read_quantity(mm, "length").value for mm in (43, 57, 318, 0.1)] == [0.043, 0.057, 0.318, 0.0001]


@pytest.mark.parametrize("kind", KINDS)
def test_a_bare_number_is_in_the_unit_of_the_file(kind):
    with_unit = f"12.5 {SURFACE_UNIT[kind]}"
    assert read_quantity(12.5, kind) == read_quantity(with_unit, kind) == read_quantity("12.5", kind)
    assert from_surface(12.5, kind) == read_quantity(12.5, kind).value
    assert to_surface(read_quantity(12.5, kind).value, kind) == pytest.approx(12.5, rel=1e-15)


@pytest.mark.parametrize("kind", KINDS)
def test_every_spelling_reads_as_its_unit(kind):
    for spelling, unit in UNITS[kind].items():
        assert read_quantity(f"3 {spelling}", kind).value == 3 * unit.times / unit.over
        assert unit.symbol in UNITS[kind]


def test_a_text_of_the_longest_length_is_read():
    assert read_quantity("3" + " " * 198 + "m", "length").value == 3
