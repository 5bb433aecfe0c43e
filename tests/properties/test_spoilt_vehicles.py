"""Promises 6, 7, 9 and 10 over vehicles with slips: refused, or answered in strict JSON, never a stumble.

Warnings are errors here, so a division by nothing does not pass unseen either.
"""

from __future__ import annotations

import json
import math
from typing import Any

from hypothesis import HealthCheck, assume, given, settings

from leverwright import Study
from leverwright.findings import judge
from leverwright.project import Draft
from leverwright.wire.cycling import cycle_document
from leverwright.wire.judging import check_document
from leverwright.wire.strict import printed
from tests.properties.drawn import File, as_text
from tests.properties.spoilt import spoilt_vehicles

FEW = settings(max_examples=25, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])


def studied(file: File) -> Study:
    reading = Draft.from_text(as_text(file), name="spoilt.toml")
    # The sentence of a refusal is never empty.
    assert all(fault.found and fault.allowed for fault in reading.faults)
    assume(reading.project is not None)
    assert reading.project is not None
    return Study(reading.project)


def numbers(document: Any) -> list[float]:
    """Every number anywhere in a document."""
    if isinstance(document, dict):
        return [n for value in document.values() for n in numbers(value)]
    if isinstance(document, list):
        return [n for value in document for n in numbers(value)]
    return [float(document)] if isinstance(document, int | float) else []


@FEW
@given(spoilt_vehicles())
def test_a_vehicle_with_slips_is_refused_or_checked(file):
    study = studied(file)
    text = printed(check_document(study, judge(study)))
    document = json.loads(text)
    assert all(math.isfinite(n) for n in numbers(document))
    for wheel in document["answers"]["wheels"].values():
        for name, answer in wheel.items():
            listed = answer.values() if name.endswith("_ratio") else [answer]
            assert all(a["value"] is not None or a["because"] for a in listed), name


@FEW
@given(spoilt_vehicles())
def test_a_vehicle_with_slips_is_refused_or_cycled_in_every_mode(file):
    study = studied(file)
    for mode in ("heave", "roll", *study.project.wheels):
        document = json.loads(printed(cycle_document(study, study.cycle(mode, poses=5))))
        assert all(math.isfinite(n) for n in numbers(document))
        for assembly in document["assemblies"]:
            cannot = not assembly["poses"]
            # What cannot move says why; what has no wheel has nothing to say.
            assert not cannot or assembly["bind"] or not assembly["wheels"]


@FEW
@given(spoilt_vehicles())
def test_posed_bars_keep_their_lengths_whatever_was_drawn(file):
    """Measured again from the printed points: an answer is withheld, never false."""
    study = studied(file)
    bars = study.project.bars
    document = json.loads(printed(cycle_document(study, study.cycle(poses=5))))
    points = study.project.points
    flat = study.project.plane
    axes = {None: (0, 1, 2), "xz": (0, 2), "yz": (1, 2)}[flat]
    for assembly in document["assemblies"]:
        for pose in assembly["poses"]:
            where = pose["points_mm"]
            for name in pose["bars_n"]:
                one, other = bars[name].ends
                if one not in where or other not in where:
                    continue
                stated = bars[name].length
                measured = math.dist([points[one].at[a] for a in axes], [points[other].at[a] for a in axes])
                wanted = measured if stated is None else stated.value
                assert abs(math.dist(where[one], where[other]) - wanted * 1e3) < 1e-6, name
