"""Standing position, sag, frequencies and roll rate against the rigid engine's own equilibrium.

The witness seeks the wheel travels at which its ground forces carry the sprung weights; everything
else is arithmetic on what it finds there.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq, fsolve

from leverwright.ride import Answer
from tests.reference.differences import rate_matrix
from tests.reference.product import study_of
from tests.reference.rigid_engine import RigidEngine
from tests.reference.vehicle import Vehicle, read, read_text

GRAVITY = 9.80665  # m/s², by definition
FOUND = 1e-9  # m: 1e-6 mm
TYRE = 95e3  # N/m


def with_tyre(name: str) -> Vehicle:
    return read_text(read(name).text.replace("unsprung =", "tyre = 95\nunsprung ="))


def said(vehicle: Vehicle, wheel: str, name: str) -> float:
    answer: Answer = study_of(vehicle.text).answers[wheel].of[name]
    assert answer.value is not None, answer.because
    return answer.value


@pytest.mark.parametrize(
    ("name", "wheel", "load", "unsprung"),
    [
        ("flat-train", "wheel", 40, 8),
        ("trailing-arm", "wheel", 48, 8),
        ("wishbone-corner", "wheel", 60, 10),
    ],
)
def test_one_wheel(name, wheel, load, unsprung):
    vehicle = with_tyre(name)
    engine = RigidEngine(vehicle)
    weight = (load - unsprung) * GRAVITY

    def missing(z: float) -> float:
        return engine.pose({wheel: z}).wheel_forces[wheel] - weight

    stands = brentq(missing, -0.04, 0.02, xtol=1e-13)
    travel = {wheel: stands}
    rate = rate_matrix(engine, travel)[wheel][wheel]
    (spring,) = vehicle.springs
    ratio = engine.ratios(travel)[spring][wheel]

    def open_at(z: float) -> float:
        return engine.lengths({wheel: z})[spring] - vehicle.laws[spring].length_open

    droop = brentq(open_at, stands - 0.06, stands, xtol=1e-13)
    assert said(vehicle, wheel, "standing_travel") == pytest.approx(stands, abs=FOUND)
    assert said(vehicle, wheel, "sag") == pytest.approx(stands - droop, abs=2 * FOUND)
    assert said(vehicle, wheel, "wheel_rate") == pytest.approx(rate, rel=1e-6)
    assert said(vehicle, wheel, "heave_rate") == pytest.approx(rate, rel=1e-6)
    answers = study_of(vehicle.text).answers[wheel]
    assert answers.motion_ratio[spring].value == pytest.approx(ratio, rel=1e-8)
    sprung = load - unsprung
    alone = math.sqrt(rate / sprung) / (2 * math.pi)
    in_series = math.sqrt(rate * TYRE / (rate + TYRE) / sprung) / (2 * math.pi)
    hop = math.sqrt((rate + TYRE) / unsprung) / (2 * math.pi)
    assert said(vehicle, wheel, "ride_frequency_without_tyre") == pytest.approx(alone, rel=1e-6)
    assert said(vehicle, wheel, "ride_frequency") == pytest.approx(in_series, rel=1e-6)
    assert said(vehicle, wheel, "hop_frequency") == pytest.approx(hop, rel=1e-6)


def test_both_wheels_of_a_beam_axle_together():
    """Loads 70 and 68 kg, the linkage not symmetric: the wheels stand at different heights."""
    vehicle = with_tyre("beam-axle")
    engine = RigidEngine(vehicle)
    weight = np.array([70 - 14, 68 - 14]) * GRAVITY

    def missing(heights: np.ndarray) -> np.ndarray:
        force = engine.pose({"left": float(heights[0]), "right": float(heights[1])}).wheel_forces
        return np.array([force["left"], force["right"]]) - weight

    heights, _, flag, message = fsolve(missing, [-0.005, -0.005], xtol=1e-13, full_output=True)
    assert flag == 1 or np.abs(missing(heights)).max() < 1e-7, message
    travel = {"left": float(heights[0]), "right": float(heights[1])}
    rates, ratios = rate_matrix(engine, travel), engine.ratios(travel)
    study = study_of(vehicle.text)
    for wheel, load in (("left", 56), ("right", 54)):
        heave = sum(rates[wheel].values())
        assert said(vehicle, wheel, "standing_travel") == pytest.approx(travel[wheel], abs=FOUND)
        assert said(vehicle, wheel, "wheel_rate") == pytest.approx(rates[wheel][wheel], rel=1e-6)
        assert said(vehicle, wheel, "heave_rate") == pytest.approx(heave, rel=1e-6)
        alone = math.sqrt(heave / load) / (2 * math.pi)
        assert said(vehicle, wheel, "ride_frequency_without_tyre") == pytest.approx(alone, rel=1e-6)
        for spring, by_wheel in ratios.items():
            one, both = study.answers[wheel].motion_ratio[spring], study.answers[wheel].heave_ratio[spring]
            assert one.value == pytest.approx(by_wheel[wheel], rel=1e-8)
            assert both.value == pytest.approx(sum(by_wheel.values()), rel=1e-8)


def test_roll_rate_of_the_beam_axle_is_the_moment_a_degree_of_lean():
    """Lean the chassis a hundredth of a degree either way about the middle of the track, from where it stands."""
    vehicle = with_tyre("beam-axle")
    engine = RigidEngine(vehicle)
    stands = {w: said(vehicle, w, "standing_travel") for w in ("left", "right")}
    out = {w: float(vehicle.points[centre][1]) for w, (_, centre) in vehicle.wheels.items()}
    middle = sum(out.values()) / 2
    arm = {w: y - middle for w, y in out.items()}

    def moment(lean: float) -> float:
        force = engine.pose({w: stands[w] + lean * arm[w] for w in arm}).wheel_forces
        return sum(arm[w] * force[w] for w in arm)

    step = math.radians(0.01)
    near, far = moment(step) - moment(-step), moment(2 * step) - moment(-2 * step)
    roll_rate = (8 * near - far) / (12 * step)
    (axle,) = study_of(vehicle.text).axles
    assert axle.wheels == ("left", "right")
    assert axle.roll_rate.value == pytest.approx(roll_rate, rel=1e-6)
