"""PUBLISHED rows B1 to B9: coils computed from their wire.

Provenance: R read in the place named, M recalled from memory of it and recomputed, C computed.
"""

from __future__ import annotations

import math

import pytest

from leverwright.springs import wire

INCH = 0.0254  # m, exact
POUND_FORCE = 4.4482216152605  # N, exact
PSI = POUND_FORCE / INCH**2  # Pa


class TestShigleyExample10No1:
    """B1, Shigley's Mechanical Engineering Design, Ex. 10-1 (M).

    Music wire 0.037 in, outside diameter 0.4375 in, ends squared, 12.5 turns in all; strength
    201 kpsi·in^0.145, shear yield 0.45 of it, G 11.85 Mpsi. Tolerance 0.3 % on the exact values.
    """

    coil = wire.Coil(wire=0.037 * INCH, mean_diameter=(0.4375 - 0.037) * INCH, active=12.5 - 2)
    grade = wire.WireGrade(201e3 * PSI, 1 * INCH, 0.145, "the example")
    modulus = 11.85e6 * PSI

    def test_index_and_curvature_factor(self):
        index = wire.spring_index(self.coil)
        assert index == pytest.approx(10.824, rel=3e-3)
        assert wire.bergstraesser_factor(index) == pytest.approx(1.1241, rel=3e-3)

    def test_strength_of_the_wire(self):
        strength = wire.wire_strength(self.grade, self.coil.wire)
        assert strength / PSI == pytest.approx(324.2e3, rel=3e-3)
        assert 0.45 * strength / PSI == pytest.approx(145.9e3, rel=3e-3)

    def test_load_at_yield_rate_and_deflection(self):
        factor = wire.bergstraesser_factor(wire.spring_index(self.coil))
        yield_stress = 0.45 * wire.wire_strength(self.grade, self.coil.wire)
        load = wire.push_at_stress(self.coil, yield_stress, factor)
        rate = wire.coil_rate(self.coil, self.modulus)
        assert load / POUND_FORCE == pytest.approx(6.446, rel=3e-3)
        assert rate / (POUND_FORCE / INCH) == pytest.approx(4.116, rel=3e-3)
        assert load / rate / INCH == pytest.approx(1.566, rel=3e-3)
        assert wire.coil_stress(self.coil, load, factor) == pytest.approx(yield_stress, rel=1e-12)

    def test_solid_and_free_length(self):
        solid = wire.solid_length(self.coil, "closed")
        assert wire.total_coils(self.coil.active, "closed") == 12.5
        assert solid / INCH == pytest.approx(0.4995, rel=3e-3)
        assert solid / INCH + 1.566 == pytest.approx(2.066, rel=3e-3)


def test_jindal_example_8_1():
    """B2, Jindal, Machine Design, ex. 8-1 p. 224 (R inputs; answers recomputed).

    Its printed 1.0000, 1.1025, 16.0 and 18.0 are integer division in old code: not copied.
    """
    coil = wire.Coil(wire=5e-3, mean_diameter=30e-3, active=15)
    index = wire.spring_index(coil)
    direct, wahl = wire.direct_shear_factor(index), wire.wahl_factor(index)
    rate = wire.coil_rate(coil, 84e9)
    assert direct == pytest.approx(1.0833, rel=1e-4)
    assert wahl == pytest.approx(1.2525, rel=1e-4)
    assert wahl / direct == pytest.approx(1.1562, rel=1e-4)
    assert rate / 1e3 == pytest.approx(16.204, rel=1e-4)
    assert 300 / rate * 1e3 == pytest.approx(18.514, rel=1e-4)
    assert wire.coil_stress(coil, 300, wahl) / 1e6 == pytest.approx(229.64, rel=1e-4)


@pytest.mark.parametrize(
    ("index", "wahl", "bergstraesser"),
    [
        (4, 1.4038, 1.3846),
        (6, 1.2525, 1.2381),
        (8, 1.1840, 1.1724),
        (10, 1.1448, 1.1351),
        (12, 1.1194, 1.1111),
    ],
)
def test_factors_by_index(index, wahl, bergstraesser):
    """B6 (C); the form of EN 13906-1, (w + 0.5) / (w − 0.75), is the same as Bergstraesser's."""
    assert wire.wahl_factor(index) == pytest.approx(wahl, abs=1e-4)
    assert wire.bergstraesser_factor(index) == pytest.approx(bergstraesser, abs=1e-4)
    assert wire.bergstraesser_factor(index) == pytest.approx((index + 0.5) / (index - 0.75), rel=1e-14)


@pytest.mark.parametrize(
    ("grade", "megapascal"),
    [
        (wire.MUSIC_WIRE, 2000),
        (wire.OIL_TEMPERED, 1629),
        (wire.HARD_DRAWN, 1563),
        (wire.CHROME_VANADIUM, 1785),
        (wire.CHROME_SILICON, 1832),
    ],
)
def test_strength_of_two_millimetre_wire(grade, megapascal):
    """B7, Shigley's table 10-4, metric: first three R by way of Jindal, the chrome steels M."""
    assert wire.wire_strength(grade, 2e-3) / 1e6 == pytest.approx(megapascal, rel=1e-3)


@pytest.mark.parametrize(
    ("millimetre", "megapascal"), [(1, 1980), (2, 1760), (3, 1630), (4, 1530), (5, 1460)]
)
def test_strength_of_patented_wire(millimetre, megapascal):
    """B8, EN 10270-1 grade SM, lower limit, R from a spring maker's page; 10 MPa as printed."""
    assert wire.patented_wire_strength(millimetre * 1e-3) / 1e6 == pytest.approx(megapascal, abs=10)


@pytest.mark.parametrize("bad", [(0, 0.03, 5), (0.004, math.nan, 5), (0.004, 0.03, -1), (0.004, 0.003, 5)])
def test_a_coil_that_cannot_be_wound_is_refused(bad):
    with pytest.raises(ValueError, match=r"coil|hole"):
        wire.Coil(*bad)


def test_sadhu_singh_example_8_1():
    """B3, Machine Design I, ex. 8.1 p. 227 (R inputs): 250 to 300 N over 8 mm, index 8, 420 MPa, G 84 GPa; 0.1 %.

    Its surge frequency is printed 3.08 Hz, a slip of unit; recomputed 97.4 Hz at 7800 kg/m³, coils not yet rounded up.
    """
    factor = wire.wahl_factor(8)
    assert factor == pytest.approx(1.1840, rel=1e-3)
    thinnest = wire.Coil(wire=4.151e-3, mean_diameter=8 * 4.151e-3, active=1)
    assert wire.push_at_stress(thinnest, 420e6, factor) == pytest.approx(300, rel=1e-3)
    chosen = wire.Coil(wire=4.25e-3, mean_diameter=34e-3, active=13.945)
    assert wire.coil_rate(chosen, 84e9) == pytest.approx(6.25e3, rel=1e-3)
    assert wire.total_coils(14, "closed") == 16
    assert wire.surge_frequency(chosen, 84e9, 7800) == pytest.approx(97.4, rel=1e-3)


def test_wentzell_example_8_2():
    """B4, Machine Design, ex. 8.2 p. 163 (R): wire 0.105, mean 0.620 in, 70 lb/in, G 11.85 Mpsi; 0.1 %."""
    coil = wire.Coil(wire=0.105 * INCH, mean_diameter=0.620 * INCH, active=10.792)
    assert wire.coil_rate(coil, 11.85e6 * PSI) / (POUND_FORCE / INCH) == pytest.approx(70.0, rel=1e-3)
    assert wire.total_coils(coil.active, "closed ground") == pytest.approx(12.792)


def test_jindal_example_8_6():
    """B5, Machine Design, ex. 8-6 p. 228 (R): hard-drawn 1.219 mm, outside 12.5, 11.5 of 13.5 turns; 0.1 %."""
    coil = wire.Coil(wire=1.219e-3, mean_diameter=(12.5 - 1.219) * 1e-3, active=11.5)
    grade = wire.WireGrade(1783e6, 1e-3, 0.19, "the example")
    strength = wire.wire_strength(grade, coil.wire)
    assert strength / 1e6 == pytest.approx(1717.2, rel=1e-3)
    assert 0.40 * strength / 1e6 == pytest.approx(686.9, rel=1e-3)
    load = wire.push_at_stress(coil, 0.40 * strength, wire.direct_shear_factor(wire.spring_index(coil)))
    deflection = load / wire.coil_rate(coil, 80.7e9)
    # The example counts one wire more than the active coils, and 15 % of the deflection to spare.
    solid = wire.solid_length(coil, "plain")
    assert load == pytest.approx(41.09, rel=1e-3)
    assert deflection * 1e3 == pytest.approx(30.46, rel=1e-3)
    assert solid * 1e3 == pytest.approx(15.24, rel=1e-3)
    assert (solid + 1.15 * deflection) * 1e3 == pytest.approx(50.26, rel=1e-3)


@pytest.mark.parametrize(("seating", "millimetre"), [(1.0, 23.43), (0.7, 60.76), (0.5, None)])
def test_where_a_long_coil_buckles(seating, millimetre):
    """B9, EN 13906-1 with G/E = 81.5/206 (M formula, C): free length 120, mean diameter 30 mm; 1e-3."""
    found = wire.buckles_at(0.120, 0.030, seating)
    assert (None if found is None else found * 1e3) == (
        None if millimetre is None else pytest.approx(millimetre, rel=1e-3)
    )


def test_a_coil_short_enough_never_buckles():
    """B9: ν·L0/D up to 2.581 (Shigley's criterion for steel has 2.63)."""
    assert wire.slenderness_limit() == pytest.approx(2.581, rel=1e-3)
    assert wire.buckles_at(2.58 * 0.03, 0.03, 1.0) is None
    assert wire.buckles_at(2.59 * 0.03, 0.03, 1.0) is not None
