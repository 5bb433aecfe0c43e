"""Every kind of force law at the wheel of a level trailing arm, against its closed form.

Arm 400 mm, spring hole 250 mm out, upper eye at (150, 300): the arm's angle t gives wheel height,
spring length and their derivatives on paper. Law by law the ground force is law · ds/dz and the wheel
rate law' · (ds/dz)² + law · d²s/dz².
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from tests.reference.product import Said, poses_of, study_of

ARM, HOLE, EYE = 0.400, 0.250, (0.150, 0.300)  # m
TRAVELS = (-0.03, 0.0, 0.03)  # m
DRAWING = """
leverwright = 1
plane = "xz"
[points]
pivot = [0, 0]
hub = [400, 0]
spring-hole = [250, 0]
spring-eye = [150, 300]
strap-eye = [500, 250]
[bodies]
chassis = ["pivot", "spring-eye", "strap-eye"]
arm = ["pivot", "hub", "spring-hole"]
[wheels.wheel]
body = "arm"
centre = "hub"
radius = 200
load = 20
"""


@dataclass(frozen=True, slots=True)
class Line:
    """Length [m] from the spring hole to a chassis point and its derivatives by wheel travel."""

    length: float
    dlength_dz: float
    d2length_dz2: float


def line_to(eye: tuple[float, float], reach: float, z: float) -> Line:
    """From a hole `reach` out on the arm to `eye`, the wheel at travel z."""
    t = math.asin(z / ARM)
    dt, d2t = 1 / (ARM * math.cos(t)), math.sin(t) / (ARM**2 * math.cos(t) ** 3)
    x, y = reach * math.cos(t) - eye[0], reach * math.sin(t) - eye[1]
    length = math.hypot(x, y)
    # length² = const − 2·reach·(ex·cos t + ey·sin t), differentiated twice by t.
    half1 = reach * (eye[0] * math.sin(t) - eye[1] * math.cos(t))
    half2 = reach * (eye[0] * math.cos(t) + eye[1] * math.sin(t))
    by_t = half1 / length
    by_t2 = (half2 - by_t**2) / length
    return Line(length, by_t * dt, by_t2 * dt**2 + by_t * d2t)


def product(tables: str, z: float) -> Said:
    text = DRAWING.replace("[wheels.wheel]", f"{tables}\n[wheels.wheel]")
    ends = (min(z, 0.0), max(z, 0.0)) if z else (-0.01, 0.0)
    return poses_of(study_of(text), ends, 2)[0 if z < 0 else 1]


def at_the_wheel(line: Line, push: float, rate: float) -> tuple[float, float]:
    """Ground force [N] and wheel rate [N/m] of a push that rises by `rate` [N/m] of shortening."""
    return -push * line.dlength_dz, rate * line.dlength_dz**2 - push * line.d2length_dz2


def shock(extra: str, rate: str = "rate = 20") -> str:
    return (
        f"[shocks.coil]\n{rate}\nlength_open = 350\nlength_closed = 280\n{extra}\n"
        '[springs.spring]\nends = ["spring-hole", "spring-eye"]\nshock = "coil"\n'
    )


# name, tables, push [N] and its rate [N/m] by compression from open [m]
LAWS: list[tuple[str, str, Callable[[float], tuple[float, float]]]] = [
    ("preload", shock("preload = 4"), lambda c: (20e3 * (c + 0.004), 20e3)),
    (
        "loose by 30 mm",
        shock("preload = -30"),
        lambda c: (20e3 * (c - 0.030), 20e3) if c > 0.030 else (0.0, 0.0),
    ),
    ("gas", shock("preload = 0\ngas = 60\nfriction = 25"), lambda c: (20e3 * c + 60, 20e3)),
    (
        "bump stop",
        shock("preload = 0\nstop = { touches = 40, rate = 120 }"),
        lambda c: (20e3 * c + 120e3 * max(0.0, c - 0.030), 20e3 + (120e3 if c > 0.030 else 0.0)),
    ),
    (
        "bump stop by table",
        shock("preload = 0\nstop = { touches = 40, table = [[0, 0], [10, 300], [40, 6300]] }"),
        lambda c: (
            20e3 * c + (0.0 if c < 0.03 else 30e3 * (c - 0.03) if c < 0.04 else 300 + 200e3 * (c - 0.04)),
            20e3 + (0.0 if c < 0.03 else 30e3 if c < 0.04 else 200e3),
        ),
    ),
    (
        "measured table, the mean of in and out",
        shock("preload = 0", "table = [[0, 84, 62], [20, 450, 410], [70, 1700, 1640]]"),
        lambda c: (
            (73 + (430 - 73) / 0.02 * c, (430 - 73) / 0.02)
            if c < 0.02
            else (430 + (1670 - 430) / 0.05 * (c - 0.02), (1670 - 430) / 0.05)
        ),
    ),
]


@pytest.mark.parametrize(("tables", "law"), [row[1:] for row in LAWS], ids=[row[0] for row in LAWS])
@pytest.mark.parametrize("z", TRAVELS)
def test_shock(tables, law, z):
    line = line_to(EYE, HOLE, z)
    push, rate = law(0.350 - line.length)
    force, wheel_rate = at_the_wheel(line, push, rate)
    pose = product(tables, z)
    assert pose.pushes["spring"] == pytest.approx(push, abs=1e-7)
    assert pose.wheel_forces["wheel"] == pytest.approx(force, abs=1e-7)
    assert pose.rates["wheel"]["wheel"] == pytest.approx(wheel_rate, rel=1e-10)


@pytest.mark.parametrize("z", TRAVELS)
@pytest.mark.parametrize("length", [260.0, 292.0])
def test_strap_that_stretches(z, length):
    """Slack below its length, 80 N/mm above; from the hub to a hook above."""
    hook = (0.500, 0.250)
    spring, strap = line_to(EYE, HOLE, z), line_to(hook, ARM, z)
    pull = 80e3 * max(0.0, strap.length - length * 1e-3)
    taut = 80e3 if pull > 0 else 0.0
    tables = (
        shock("preload = 4") + f'[straps.strap]\nends = ["hub", "strap-eye"]\nlength = {length}\nrate = 80\n'
    )
    coil_force, coil_rate = at_the_wheel(spring, 20e3 * (0.354 - spring.length), 20e3)
    strap_force, strap_rate = at_the_wheel(strap, -pull, taut)
    pose = product(tables, z)
    assert pose.wheel_forces["wheel"] == pytest.approx(coil_force + strap_force, abs=1e-7)
    assert pose.rates["wheel"]["wheel"] == pytest.approx(coil_rate + strap_rate, rel=1e-10)


@pytest.mark.parametrize("z", TRAVELS)
@pytest.mark.parametrize("hinge", ['["arm", "chassis"]', '["chassis", "arm"]'])
def test_torsion_bar(z, hinge):
    """12 N·m/deg, twisted by 4 deg as measured: torque · dt/dz, and its derivative."""
    t = math.asin(z / ARM)
    dt, d2t = 1 / (ARM * math.cos(t)), math.sin(t) / (ARM**2 * math.cos(t) ** 3)
    rate = 12 / math.radians(1)
    torque = rate * (t + math.radians(4))
    pose = product(f'[springs.bar]\nhinge = {hinge}\nrate = "12 N·m/deg"\ntwist = 4\n', z)
    assert pose.wheel_forces["wheel"] == pytest.approx(torque * dt, abs=1e-7)
    assert pose.rates["wheel"]["wheel"] == pytest.approx(rate * dt**2 + torque * d2t, rel=1e-10)
