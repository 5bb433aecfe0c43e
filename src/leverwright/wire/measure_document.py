"""A study → the measuring document."""

from __future__ import annotations

from leverwright.findings import judge
from leverwright.project import Sketch
from leverwright.study import Study
from leverwright.wire.judging import found_findings
from leverwright.wire.measure import MeasureDocument
from leverwright.wire.measure_springs import pile_alone_said, pile_said, springs_alone, springs_of
from leverwright.wire.measure_tapes import tapes_of
from leverwright.wire.measure_tyres import tyres_of
from leverwright.wire.measure_weights import load_sets_of

__all__ = ["measure_document", "shocks_document"]

_QUESTION = "Can I trust my numbers?"


def measure_document(study: Study) -> MeasureDocument:
    """What `measure --json` prints."""
    return MeasureDocument(
        title=study.project.title,
        tapes=tapes_of(study),
        springs=springs_of(study),
        pile=pile_said(study),
        tyres=tyres_of(study),
        load_sets=load_sets_of(study),
        findings=found_findings(
            each for each in judge(study) if each.question == _QUESTION or each.severity == "stop"
        ),
    )


def shocks_document(sketch: Sketch) -> MeasureDocument:
    """The same of a file with nothing but shocks."""
    return MeasureDocument(
        title=sketch.title,
        tapes=None,
        springs=springs_alone(sketch),
        pile=pile_alone_said(sketch),
        tyres={},
        load_sets={},
        findings=[],
    )
