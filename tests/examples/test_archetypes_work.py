"""Every vehicle to start from works as written: on its springs, with the sag it promises, and nothing stops it.

The measurements are drawn over what small workshops have; a combination that is refused names one of them.
"""

from __future__ import annotations

import random

import pytest

from leverwright import Project, Study
from leverwright.findings import judge
from leverwright.project import ProjectError
from leverwright.project.archetypes import Archetype, archetypes, write_archetype

MEASURED = {asked.key for archetype in archetypes() for asked in archetype.measurements}
DRAWN = 16  # sets of measurements a kind; most odd ones are refused
SEEDS = {archetype.id: seed for seed, archetype in enumerate(archetypes(), start=20)}
EVERY = pytest.mark.parametrize("archetype", archetypes(), ids=lambda archetype: archetype.id)


def drawn_measurements(archetype: Archetype):
    """Wheel loads 10 to 250 kg, shocks 120 to 500 mm, wheels 70 to 400 mm, arms and tracks to match."""
    draw = random.Random(SEEDS[archetype.id])
    for _ in range(DRAWN):
        load, longest = draw.uniform(10, 250), draw.uniform(120, 500)
        stroke = longest * draw.uniform(0.12, 0.38)
        travel = draw.uniform(45, 150)
        # The rate with which 0.35 of the stroke and 2 mm of preload carry the load at that travel.
        rate = 0.85 * load * 9.81 * travel / (stroke * (0.35 * stroke + 2))
        measurements = {
            "wheel-radius": draw.uniform(70, 400),
            "load": load,
            "unsprung": 0.15 * load,
            "shock-open": longest,
            "shock-closed": longest - stroke,
            "rate": rate,
            "arm": draw.uniform(350, 1000),
            "link": draw.uniform(350, 1000),
            "track": draw.uniform(1000, 1900),
            "frame-width": draw.uniform(400, 800),
        }
        asked = {m.key for m in archetype.measurements}
        yield {key: round(value, 1) for key, value in measurements.items() if key in asked}


def written(archetype: Archetype, measurements) -> Study:
    return Study(Project.from_text(write_archetype(archetype.id, measurements), name=archetype.id))


def stops(of: Study) -> list[str]:
    return [finding.sentence for finding in judge(of) if finding.severity == "stop"]


def assert_it_works(of: Study) -> None:
    assert stops(of) == []
    assert {standing.on for standing in of.standing} == {"springs"}
    sags = [wheel.of["sag_percent"].value for wheel in of.answers.values()]
    assert all(sag == pytest.approx(0.35, abs=0.05) for sag in sags), sags  # the wanted 30 to 40 %


@EVERY
def test_as_written_from_its_defaults_it_works(archetype):
    of = written(archetype, {})
    assert_it_works(of)
    assert not of.project.notices


@EVERY
def test_as_written_from_drawn_measurements_it_works_or_one_of_them_is_named(archetype):
    worked, refused = 0, []
    for measurements in drawn_measurements(archetype):
        try:
            of = written(archetype, measurements)
        except ProjectError as refusal:
            refused.append(refusal.fault)
            continue
        assert_it_works(of)
        worked += 1
    assert all(fault.file == f"new {archetype.id}" and fault.key in MEASURED for fault in refused)
    assert worked >= 2


def test_the_beam_axle_rises_and_rolls():
    """8 unknowns and 6 equations leave two motions."""
    archetype = next(a for a in archetypes() if a.id == "beam-axle")
    of = written(archetype, {})
    (assembly,) = of.assemblies
    assert assembly.assembly.freedom.count == 2
    (rolled,) = of.cycle("roll")
    assert rolled.posed.travel[-1] > 0.030
    assert rolled.posed.travel[0] < -0.030
