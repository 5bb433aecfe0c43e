"""Conversions against the handbook.

NIST Special Publication 811, 2008 edition, appendix B.8 (factors, bold where exact), read from memory of that
table and marked so; the exact ones follow from the definitions of 1959 (inch, pound) and 1901 (gravity).
"""

import pytest

from leverwright.quantity import read_quantity

# text, kind, SI value as the handbook prints it, figures that it prints
EXACT = [
    ("1 in", "length", 2.54e-2),
    ("1 ft", "length", 3.048e-1),
    ("1 lb", "mass", 4.5359237e-1),
    ("1 kgf", "force", 9.80665),
    ("1 mph", "speed", 4.4704e-1),
    ("1 ft/s", "speed", 3.048e-1),
    ("36 km/h", "speed", 10.0),
]
PRINTED = [
    ("1 oz", "mass", 2.834952e-2),
    ("1 lbf", "force", 4.448222),
    ("1 lbf/in", "stiffness", 1.751268e2),
    ("1 lbf·ft", "moment", 1.355818),
    ("1 lbf·in", "moment", 1.129848e-1),
    ("1 kgf·m", "moment", 9.80665),
    ("1 deg", "angle", 1.745329e-2),
    ("1 psi", "pressure", 6.894757e3),
    ("1 ksi", "modulus", 6.894757e6),
]


@pytest.mark.parametrize(("text", "kind", "value"), EXACT)
def test_exact_factor_of_the_handbook(text, kind, value):
    assert read_quantity(text, kind).value == value


@pytest.mark.parametrize(("text", "kind", "value"), PRINTED)
def test_printed_factor_of_the_handbook(text, kind, value):
    # Seven figures are printed: half a unit of the last.
    assert read_quantity(text, kind).value == pytest.approx(value, rel=5e-7)


def test_a_torsion_per_degree_is_180_over_pi_per_radian():
    assert read_quantity("3.14159265358979 N·m/deg", "torsion").value == pytest.approx(180, rel=1e-14)
    assert read_quantity("1 lbf·ft/deg", "torsion").value == pytest.approx(
        1.3558179483 * 57.2957795131, rel=1e-10
    )
    assert read_quantity("7 N·m/rad", "torsion").value == 7.0


def test_metric_prefixes():
    assert read_quantity("1 kN", "force").value == 1000
    assert read_quantity("1 N/mm", "stiffness").value == 1000
    assert read_quantity("1 N/cm", "stiffness").value == 100
    assert read_quantity("1 N/m", "stiffness").value == 1
    assert read_quantity("1 kN/m", "stiffness").value == 1000
    assert read_quantity("1 kgf/mm", "stiffness").value == 9806.65
    assert read_quantity("1 kgf/cm", "stiffness").value == 980.665
    assert read_quantity("1 N·mm", "moment").value == 0.001
    assert read_quantity("1 kN·m", "moment").value == 1000
    assert read_quantity("250 g", "mass").value == 0.25
    assert read_quantity("1 rad", "angle").value == 1
    assert read_quantity("1.8 bar", "pressure").value == pytest.approx(180_000, rel=1e-15)
    assert read_quantity("180 kPa", "pressure").value == 180_000
    assert read_quantity("78.5 GPa", "modulus").value == 78.5e9
    assert read_quantity("78500 MPa", "modulus").value == 78.5e9
    assert read_quantity("2 min", "time").value == 120


def test_a_steel_modulus_in_millions_of_psi():
    # Printed in spring tables as 11.5 million psi and 79.3 GPa.
    assert read_quantity("11.5 Mpsi", "modulus").value == pytest.approx(79.3e9, rel=5e-4)
