"""The second opinion on a spring: JOURNEY's arithmetic for wire 6, outside 52, 7.5 coils."""

import math

import pytest

from leverwright.quantity import Quantity
from leverwright.springs.wire_route import WireMeasured, wire_rate


def mm(value, error=None):
    return Quantity(value * 1e-3, None if error is None else error * 1e-3, "length")


def turns(count, error=None):
    return Quantity(count, error, "ratio")


CART = WireMeasured(mm(6.0), mm(52), None, turns(7.5))


def test_rate_of_the_carts_coil():
    """78 500 · 6⁴ / (8 · 46³ · 7.5) = 17.4 N/mm."""
    assert wire_rate(CART).rate.value / 1e3 == pytest.approx(17.4, abs=0.05)


@pytest.mark.parametrize(("slip", "made"), [("paint", 20.1), ("outside", 12.1), ("end-coils", 13.8)])
def test_what_the_usual_slips_give(slip, made):
    found = {each.name: each for each in wire_rate(CART).slips}
    assert found[slip].made / 1e3 == pytest.approx(made, abs=0.05)


def test_the_makers_tables_alone_are_apart():
    """11.25 to 12.0 Mpsi: 6.7 % before anything is measured."""
    found = {each.name: each for each in wire_rate(CART).slips}
    assert found["modulus"].made / found["modulus"].undone == pytest.approx(12.0 / 11.25, rel=1e-3)


@pytest.mark.parametrize("slip", ["paint", "outside", "end-coils"])
def test_undoing_a_slip_gives_the_true_rate_back(slip):
    """Measured with the slip, the sizes are wrong; its `undone` is the rate of the true ones."""
    slipped = {
        "paint": WireMeasured(mm(6.2), mm(52), None, turns(7.5)),
        "outside": WireMeasured(mm(6.0), None, mm(52), turns(7.5)),
        "end-coils": WireMeasured(mm(6.0), mm(52), None, turns(9.5)),
    }[slip]
    found = {each.name: each for each in wire_rate(slipped).slips}
    true = wire_rate(CART).rate.value
    assert found[slip].undone == pytest.approx(true, rel=1e-9)


def test_honest_error_of_the_route():
    """Wire ±.05, mean ±.5, coils ±¼, modulus ±3.5 %: ±6.7 %; over the outside the wire counts a second time: 6.9 %."""
    by_mean = wire_rate(WireMeasured(mm(6, 0.05), None, mm(46, 0.5), turns(7.5, 0.25)))
    assert by_mean.rate.error is not None
    assert by_mean.rate.error / by_mean.rate.value == pytest.approx(0.067, abs=0.0005)
    assert by_mean.assumed == ()
    usual = wire_rate(CART)
    assert usual.rate.error is not None
    assert usual.rate.error / usual.rate.value == pytest.approx(0.069, abs=0.0005)
    assert set(usual.assumed) == {"wire", "diameter", "coils"}


def test_a_slip_that_no_coil_can_have_is_no_number():
    """Two coils in all: without two flat ones nothing is left."""
    found = {each.name: each for each in wire_rate(WireMeasured(mm(6), mm(52), None, turns(2))).slips}
    assert math.isnan(found["end-coils"].undone)
