"""PUBLISHED rows B1, B2, B6, B7, B8: coils computed from their wire.

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
