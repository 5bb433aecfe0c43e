"""`new` writes a vehicle from measurements, and never over a file."""

import pytest

from leverwright.project import Project
from leverwright.project.archetypes import archetypes

KINDS = [kind.id for kind in archetypes()]


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_is_written_and_can_be_read(leverwright, tmp_path, kind):
    ended = leverwright("new", kind)
    assert ended.status == 0
    assert f"Wrote {kind}.toml." in ended.out
    assert Project.read(tmp_path / f"{kind}.toml").wheels


def test_a_measurement_with_its_unit_reaches_the_file(leverwright, tmp_path):
    ended = leverwright("new", "beam-axle", "--wheel-radius", "8 in", "--out", "cart.toml")
    assert ended.status == 0
    wheels = Project.read(tmp_path / "cart.toml").wheels.values()
    assert {wheel.radius.value for wheel in wheels} == {0.2032}  # 8 × 25.4 mm


def test_a_file_is_never_written_over(leverwright, tmp_path):
    (tmp_path / "cart.toml").write_text("mine", encoding="utf-8")
    ended = leverwright("new", "beam-axle", "--out", "cart.toml")
    assert ended.status == 2
    assert "was not saved: there is a file of this name already" in ended.said
    assert "--out" in ended.said
    assert (tmp_path / "cart.toml").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("measured", "said"),
    [
        (("--wheel-radius", "62 kg"), "--wheel-radius: '62 kg' is a mass, not a length"),
        (("--wheel-radius", "20,5"), "--wheel-radius: '20,5' has a comma"),
        (("--wheel-radius", "-1/2 in"), "--wheel-radius:"),
        (("--wheel-radius=9 m",), "--wheel-radius:"),
        (("--whel-radius", "9"), "did you mean --wheel-radius?"),
    ],
)
def test_a_measurement_that_cannot_be_is_refused_and_nothing_written(leverwright, tmp_path, measured, said):
    ended = leverwright("new", "beam-axle", *measured)
    assert ended.status == 2
    assert said in ended.said
    assert list(tmp_path.iterdir()) == []


def test_numbers_that_contradict_the_ones_not_given_are_refused(leverwright, tmp_path):
    ended = leverwright("new", "beam-axle", "--shock-open", "240")  # the usual closed length is 246
    assert ended.status == 2
    assert "shock" in ended.said
    assert list(tmp_path.iterdir()) == []


def test_with_json_the_written_file_is_named(leverwright):
    assert leverwright("new", "swing-arm", "--json").document == {"leverwright": 1, "file": "swing-arm.toml"}


def test_help_of_a_kind_lists_its_measurements(leverwright):
    ended = leverwright("new", "beam-axle", "--help")
    for kind in archetypes():
        if kind.id == "beam-axle":
            for measurement in kind.measurements:
                assert f"--{measurement.key} VALUE" in ended.out
                assert f"({measurement.default})" in " ".join(ended.out.split())


def test_a_folder_that_is_not_there_is_named(leverwright):
    ended = leverwright("new", "beam-axle", "--out", "nowhere/cart.toml")
    assert ended.status == 2
    assert "nowhere/cart.toml: was not saved: there is no such folder" in ended.said


def test_an_example_that_does_not_fit_is_named_by_the_option_that_gives_it(leverwright):
    ended = leverwright("new", "trailing-arm", "--load", "42 lbs")
    assert ended.status == 2
    said = " ".join(ended.said.split())
    assert "new trailing-arm, --rate: not given: the example's 22 N/mm" in said
    assert "give your own spring rate" in said
