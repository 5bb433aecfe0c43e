"""A notebook shows a study as a drawing with its findings, and every name in it stays text."""

from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.findings import judge

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_drawn_with_its_findings(path: Path) -> None:
    study = Study(Project.read(path))
    shown = study._repr_html_()
    assert shown.count("<svg") == 1
    assert shown.count("<circle") >= len(study.project.points)
    for found in judge(study):
        assert found.id in shown


def test_names_and_titles_are_text() -> None:
    text = EXAMPLES[0].read_text(encoding="utf-8")
    study = Study(Project.from_text(text.replace('title = "', 'title = "<script>alert(1)</script> ', 1)))
    shown = study._repr_html_()
    assert "<script" not in shown
    assert "&lt;script&gt;" in shown
