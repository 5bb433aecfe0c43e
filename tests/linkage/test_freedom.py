"""Freedoms, play and binds on mechanisms that a reader can count by hand."""

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.ride import loose_motions

HEAD = """leverwright = 1
title = "T"
pose = "on blocks"
plane = "xz"
"""
SHOCK = """
[shocks.coil]
rate = 20
length_open = 400
length_closed = 100
preload = 0
[springs.spring]
ends = ["seat", "eye"]
shock = "coil"
[wheels.wheel]
body = "arm"
centre = "hub"
radius = 200
load = 40
unsprung = 5
"""


def study(points: str, bodies: str, bars: str = "") -> Study:
    return Study(Project.from_text(f"{HEAD}[points]\n{points}\n[bodies]\n{bodies}\n{bars}\n{SHOCK}"))


ARM = "pivot = [0, 200]\nhub = [-400, 200]\nseat = [-250, 210]\neye = [-250, 460]"


def test_a_trailing_arm_has_one_freedom_and_the_ratio_of_its_lever() -> None:
    arm = study(ARM, 'chassis = ["pivot", "eye"]\narm = ["pivot", "hub", "seat"]')
    assert arm.assemblies[0].assembly.freedom.count == 1
    # Spring upright over a seat 250 of 400 out: the ratio at the set-up pose is 250/400.
    assert arm.cycle(asked=(0.0, 0.001), poses=2)[0].posed.rates.ds_dz[0, 0, 0] == pytest.approx(
        0.625, rel=1e-9
    )


def test_three_parallel_links_of_one_length_move_although_one_repeats() -> None:
    points = (
        "a0 = [0, 200]\nb0 = [0, 300]\nc0 = [0, 400]\na1 = [-400, 200]\nb1 = [-400, 300]\nc1 = [-400, 400]\n"
        "hub = [-450, 250]\nseat = [-450, 300]\neye = [-450, 560]"
    )
    bodies = 'chassis = ["a0", "b0", "c0", "eye"]\narm = ["a1", "b1", "c1", "hub", "seat"]'
    bars = '[bars.a]\nends = ["a0", "a1"]\n[bars.b]\nends = ["b0", "b1"]\n[bars.c]\nends = ["c0", "c1"]'
    links = study(points, bodies, bars)
    freedom = links.assemblies[0].assembly.freedom
    assert freedom.count == 1
    assert freedom.redundant == 1
    forces = links.heave[0].forces
    assert forces is not None
    assert np.isnan(forces.bar_tension).all()  # what three links share cannot be told from geometry
    level = links.cycle(asked=(0.0, 0.010), poses=2)[0].posed
    assert level is not None
    assert level.rates.ds_dz[0, 0, 0] == pytest.approx(1.0, rel=1e-9)


def test_a_third_link_out_of_parallel_holds_the_arm_fast() -> None:
    points = (
        "a0 = [0, 200]\nb0 = [0, 300]\nc0 = [0, 430]\na1 = [-400, 200]\nb1 = [-400, 300]\nc1 = [-400, 400]\n"
        "hub = [-450, 250]\nseat = [-450, 300]\neye = [-450, 560]"
    )
    bodies = 'chassis = ["a0", "b0", "c0", "eye"]\narm = ["a1", "b1", "c1", "hub", "seat"]'
    bars = '[bars.a]\nends = ["a0", "a1"]\n[bars.b]\nends = ["b0", "b1"]\n[bars.c]\nends = ["c0", "c1"]'
    links = study(points, bodies, bars)
    assert links.assemblies[0].assembly.freedom.count == 0
    assert links.travels == (None,)


def test_a_parallelogram_in_one_line_is_a_dead_centre_and_has_no_poses() -> None:
    points = (
        "a0 = [0, 200]\nb0 = [-100, 200]\na1 = [300, 200]\nb1 = [200, 200]\n"
        "hub = [350, 250]\nseat = [200, 210]\neye = [200, 500]"
    )
    bodies = 'chassis = ["a0", "b0", "eye"]\narm = ["a1", "b1", "hub", "seat"]'
    bars = '[bars.a]\nends = ["a0", "a1"]\n[bars.b]\nends = ["b0", "b1"]'
    flat = study(points, bodies, bars)
    assert flat.assemblies[0].assembly.freedom.singular
    assert flat.travels == (None,)
    assert flat.answers["wheel"].of["sag"].value is None


def test_a_missing_link_is_play_that_names_its_body() -> None:
    points = "a0 = [0, 200]\na1 = [-400, 200]\nhub = [-450, 250]\nseat = [-450, 300]\neye = [-450, 560]"
    loose = study(
        points, 'chassis = ["a0", "eye"]\narm = ["a1", "hub", "seat"]', '[bars.a]\nends = ["a0", "a1"]'
    )
    freedom = loose.assemblies[0].assembly.freedom
    assert freedom.count == 2
    motions = loose_motions(loose.assemblies[0].assembly)
    assert len(motions) == 1
    assert motions[0].bodies == ("arm",)


def test_a_body_of_two_points_acts_as_a_bar() -> None:
    bar = study(
        ARM + "\ntab = [-300, 200]\nhole = [-300, 400]\nrocker-pivot = [-240, 400]\nspare = [-240, 460]\n",
        'chassis = ["pivot", "eye", "rocker-pivot"]\narm = ["pivot", "hub", "seat", "tab"]\n'
        'rocker = ["rocker-pivot", "hole", "spare"]\n'
        'stick = ["tab", "hole"]',
    )
    assembly = bar.assemblies[0].assembly
    assert assembly.layout.bar_names == ("stick",)
    assert assembly.freedom.count == 1
