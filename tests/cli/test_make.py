"""`make` writes every sheet into a new or an empty folder, all or none."""

from pathlib import Path

import pytest

from leverwright.findings import Finding
from leverwright.make import MakeError


@pytest.fixture
def axle(leverwright):
    assert leverwright("new", "beam-axle", "--out", "axle.toml").status == 0
    return "axle.toml"


def test_every_sheet_is_written_and_named(leverwright, axle, tmp_path):
    ended = leverwright("make", axle, "--out", "sheets", "--hole", "10", "--hole", "spring-hole-left=3/8 in")
    assert (ended.status, ended.notes) == (0, "")
    names = sorted(path.name for path in (tmp_path / "sheets").iterdir())
    assert f"{len(names)} files in sheets:" in ended.out
    for name in names:
        assert f"  {name}\n" in ended.out
    for ending in ("templates.pdf", "drilling-card.pdf", "cardboard-trial.pdf", ".dxf", ".svg"):
        assert any(name.endswith(ending) for name in names)
    assert "Print at 100 %" in ended.out
    assert "Not checked: strength, clearance, welds." in " ".join(ended.out.split())


def test_an_existing_empty_folder_is_used(leverwright, axle, tmp_path):
    (tmp_path / "sheets").mkdir()
    document = leverwright("make", axle, "--out", "sheets", "--paper", "Letter", "--json").document
    assert document["leverwright"] == 1
    assert sorted(document["files"]) == sorted(f"sheets/{path.name}" for path in Path("sheets").iterdir())


def test_a_folder_with_something_in_it_is_left_alone(leverwright, axle, tmp_path):
    (tmp_path / "sheets").mkdir()
    (tmp_path / "sheets" / "mine.txt").write_text("mine", encoding="utf-8")
    ended = leverwright("make", axle, "--out", "sheets")
    assert ended.status == 2
    assert "is not empty" in ended.said
    assert [path.name for path in (tmp_path / "sheets").iterdir()] == ["mine.txt"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--paper", "A3"), "'A3' is no choice for --paper; allowed: A4, Letter"),
        (("--hole", "nose=10"), "--hole: 'nose' is not in this vehicle"),
        (("--hole", "spring-hole-lef=10"), "did you mean spring-hole-left?"),
        (("--hole", "62 kg"), "--hole: '62 kg' is a mass, not a length"),
        (("--hole", "2 m"), "hole"),
        (("--measured", "62 kg"), "--measured: '62 kg' is a mass, not a length"),
        (("--measured", "20"), "20 mm"),
    ],
)
def test_what_cannot_be_drawn_is_refused_and_nothing_written(leverwright, axle, tmp_path, words, said):
    ended = leverwright("make", axle, "--out", "sheets", *words)
    assert ended.status == 2
    assert said in ended.said
    assert not (tmp_path / "sheets").exists()


def test_a_folder_is_needed(leverwright, axle):
    ended = leverwright("make", axle)
    assert ended.status == 2
    assert "--out is missing; allowed: --out FOLDER; try" in ended.said


def judged(monkeypatch, *severities):
    findings = tuple(
        Finding(f"f{at}", severity, "Does it move?", f"It says {severity}.", "why", "memory")
        for at, severity in enumerate(severities)
    )
    monkeypatch.setattr("leverwright.findings.judge", lambda _study: findings)


def test_sheets_of_a_vehicle_that_must_not_be_cut_say_so(leverwright, axle, monkeypatch):
    judged(monkeypatch, "watch", "fix", "stop")
    ended = leverwright("make", axle, "--out", "sheets")
    assert ended.status == 1
    assert "\nFIX: It says fix.\nSTOP: It says stop.\nDo not cut by these sheets" in ended.out
    assert "watch" not in ended.out
    document = leverwright("make", axle, "--out", "more", "--json").document
    assert document["stops"] == ["It says stop."]


def test_sheets_of_a_vehicle_with_something_to_mend_say_so(leverwright, axle, monkeypatch):
    judged(monkeypatch, "fix")
    ended = leverwright("make", axle, "--out", "sheets")
    assert ended.status == 0
    assert "\nFIX: It says fix.\n" in ended.out
    assert "Do not cut" not in ended.out


def test_a_refusal_of_the_sheets_is_a_sentence(leverwright, axle, monkeypatch):
    def refuse(*_):
        raise MakeError(found="no plate", allowed="a plate", do="draw one")

    monkeypatch.setattr("leverwright.make.make_all", refuse)
    ended = leverwright("make", axle, "--out", "sheets", "--json")
    assert ended.status == 2
    assert ended.document["error"]["found"] == "no plate"
