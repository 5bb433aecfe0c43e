"""Heave, pitch, roll and wheel loads against SciPy's least of the potential energy: arms, coils, tyres and weights
written down here once more, the vehicle free to turn and rise, nothing shared with the program but the numbers.

Tolerance: a micrometre, a microradian, a tenth of a gram: what the minimum of an energy can be found to.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy import optimize

from leverwright import Project, Study
from leverwright.ride.chassis import Burden, Hitch, Part, stand_chassis

G = 9.80665
ARM, LEVER, RADIUS, OPEN, PRELOAD = 0.5, 0.36, 0.25, 0.30, 0.004
TYRE, UNSPRUNG = 90e3, 9.0

HEAD = """
leverwright = 1
title = "invented for a test"
pose = "on blocks"
[shocks.coil]
rate = {rate}
length_open = 300
length_closed = 180
preload = 4
"""
CORNER = """
[points]
pivot-{n} = [{x}, {y}, 250]
inner-{n} = [{x}, {yi}, 250]
hub-{n} = [{xh}, {y}, 250]
eye-{n} = [{xe}, {y}, 250]
top-{n} = [{xe}, {y}, 520]
"""


def vehicle(corners, rate):
    """Trailing arms 500 long, a coil upright on each at 360, 270 long as drawn."""
    points, bodies, springs, wheels = [], [], [], []
    chassis = []
    for name, (x, y) in corners.items():
        mm = {
            "n": name,
            "x": 1e3 * x,
            "y": 1e3 * y,
            "yi": 1e3 * y + 60,
            "xh": 1e3 * x - 500,
            "xe": 1e3 * x - 360,
        }
        points += CORNER.format(**mm).strip().splitlines()[1:]
        bodies.append(f'arm-{name} = ["pivot-{name}", "inner-{name}", "hub-{name}", "eye-{name}"]')
        chassis += [f'"pivot-{name}"', f'"inner-{name}"', f'"top-{name}"']
        springs.append(f'[springs.s-{name}]\nends = ["eye-{name}", "top-{name}"]\nshock = "coil"')
        wheels.append(
            f'[wheels.{name}]\nbody = "arm-{name}"\ncentre = "hub-{name}"\nradius = 250\nload = 50\n'
            "unsprung = 9\ntyre = 90"
        )
    text = [
        HEAD.format(rate=rate),
        "[points]",
        *points,
        "[bodies]",
        f"chassis = [{', '.join(chassis)}]",
        *bodies,
    ]
    return Project.from_text("\n".join([*text, *springs, *wheels]))


def stood(project, masses, at, hitch=None):
    study = Study(project)
    parts = [
        Part(a, t, h, np.full(len(a.load), RADIUS))
        for a, t, h in zip(study.assemblies, study.travels, study.heave, strict=True)
    ]
    burden = Burden(np.array(masses), np.array(at), np.zeros(len(masses)), np.zeros((len(masses), 3)))
    return stand_chassis(parts, burden, hitch)


def turned(pitch, roll):
    """Chassis to ground: pitch + nose down about y, then seen from the pitched frame roll + left side up about x."""
    c, s = math.cos(pitch), math.sin(pitch)
    about_y = np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])
    c, s = math.cos(roll), math.sin(roll)
    about_x = np.array([[1, 0, 0], [0, c, -s], [0, s, c]])
    return about_y @ about_x


def energy(u, corners, rate, masses, at):
    rise, pitch, roll = u[:3]
    turn = turned(pitch, roll)
    height = lambda place: float((turn @ place)[2]) + rise  # noqa: E731
    unsprung = UNSPRUNG * len(corners)
    total = sum(masses)
    sprung = np.array(masses) @ np.array(at) - UNSPRUNG * sum(
        np.array([x - ARM, y, 0.25]) for x, y in corners.values()
    )
    sum_energy = G * (total - unsprung) * height(sprung / (total - unsprung))
    for angle, (x, y) in zip(u[3:], corners.values(), strict=True):
        back = np.array([-math.cos(angle), 0.0, math.sin(angle)])
        pivot = np.array([x, y, 0.25])
        hub, eye, top = pivot + ARM * back, pivot + LEVER * back, np.array([x - LEVER, y, 0.52])
        squash = OPEN - float(np.linalg.norm(top - eye)) + PRELOAD
        sum_energy += 0.5 * rate * max(0.0, squash) ** 2
        flat = RADIUS - height(hub)
        sum_energy += 0.5 * TYRE * max(0.0, flat) ** 2 + G * UNSPRUNG * height(hub)
    return sum_energy


def least(corners, rate, masses, at, coupling=None):
    """Where the gradient, by five-point differences, is zero. A coupling (place, height) fixes the rise by the turn."""

    def whole(v):
        if coupling is None:
            return v
        place, wanted = coupling
        return np.concatenate([[wanted - float((turned(v[0], v[1]) @ place)[2])], v])

    def gradient(v, h=1e-4):
        steps = [k * h * e for e in np.eye(len(v)) for k in (-2, -1, 1, 2)]
        f = [energy(whole(v + step), corners, rate, masses, at) for step in steps]
        return np.array(
            [(f[k] - 8 * f[k + 1] + 8 * f[k + 2] - f[k + 3]) / (12 * h) for k in range(0, len(f), 4)]
        )

    start = np.zeros(3 + len(corners) - (coupling is not None))
    if coupling is not None:  # too far away for the root alone

        def whole_energy(v: Any) -> float:
            return float(energy(whole(v), corners, rate, masses, at))

        start = optimize.minimize(whole_energy, start, method="BFGS").x
    found = optimize.root(gradient, start, method="hybr", options={"xtol": 1e-13})
    assert np.abs(gradient(found.x)).max() < 1e-5
    return whole(found.x)


def loads_of(u, corners):
    """What each tyre carries [kg] by how flat it is."""
    turn = turned(u[1], u[2])
    hubs = [
        np.array([x, y, 0.25]) + ARM * np.array([-math.cos(angle), 0.0, math.sin(angle)])
        for angle, (x, y) in zip(u[3:], corners.values(), strict=True)
    ]
    return [TYRE * max(0.0, RADIUS - (turn @ hub)[2] - u[0]) / G for hub in hubs]


FOUR = {"fl": (1.6, 0.45), "fr": (1.6, -0.45), "rl": (0.3, 0.5), "rr": (0.3, -0.5)}
THREE = {"fl": (1.6, 0.45), "fr": (1.6, -0.45), "r": (0.3, 0.02)}
LOADS = {
    "in the middle": ([120.0, 80.0], [[0.5, 0.0, 0.45], [0.4, 0.0, 0.7]]),
    "one side, high": ([120.0, 80.0], [[0.5, 0.02, 0.45], [0.4, 0.15, 0.9]]),
    "behind the axle": ([140.0, 70.0], [[0.5, 0.0, 0.45], [-0.35, 0.05, 0.5]]),
}


@pytest.mark.parametrize("corners", [FOUR, THREE], ids=["four wheels", "three wheels"])
@pytest.mark.parametrize("load", LOADS)
@pytest.mark.parametrize("rate", [18e3, 32e3])
def test_it_stands_where_the_energy_is_least(corners, load, rate):
    masses, at = LOADS[load]
    found = stood(vehicle(corners, rate * 1e-3), masses, at)
    assert found.because is None
    u = least(corners, rate, masses, at)
    assert found.up == pytest.approx(turned(u[1], u[2])[2], abs=1e-6)
    assert -found.ground == pytest.approx(u[0], abs=1e-6)
    assert found.loads == pytest.approx(loads_of(u, corners), abs=1e-4)
    assert found.loads.sum() == pytest.approx(sum(masses), rel=1e-9)
    assert found.pitch == pytest.approx(u[1], abs=1e-6)
    assert found.roll == pytest.approx(u[2], abs=1e-6)


def test_a_trailer_on_its_coupling_stands_where_the_energy_is_least():
    corners = {"l": (0.5, 0.6), "r": (0.5, -0.6)}
    masses, at = [95.0, 150.0], [[0.14, 0.0, 0.4], [0.1, 0.1, 0.7]]
    place = [1.7, 0.0, 0.38]
    found = stood(vehicle(corners, 30.0), masses, at, Hitch(np.array(place), 0.40))
    u = least(corners, 30e3, masses, at, (place, 0.40))
    assert found.up == pytest.approx(turned(u[1], u[2])[2], abs=1e-6)
    assert found.loads == pytest.approx(loads_of(u, corners), abs=1e-4)
    assert found.coupling == pytest.approx(245.0 - sum(loads_of(u, corners)), abs=1e-4)
