"""A vehicle with a finding that stops it says so on every page of its paper."""

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from leverwright import Project, Study
from leverwright.findings import judge
from leverwright.make import Choices, sheet

FIRES = Path(__file__).parents[1] / "findings" / "wrong-way" / "fires.toml"


@pytest.mark.parametrize("kind", ["templates", "card", "trial"])
def test_every_page_says_not_to_cut(kind: str) -> None:
    study = Study(Project.read(FIRES))
    stops = tuple(found.sentence for found in judge(study) if found.severity == "stop")
    assert stops
    warned = PdfReader(io.BytesIO(sheet(study, kind, "A4", Choices(stops=stops))))
    assert all("STOP, do not cut" in page.extract_text() for page in warned.pages)
    quiet = PdfReader(io.BytesIO(sheet(study, kind, "A4")))
    assert not any("STOP" in page.extract_text() for page in quiet.pages)
