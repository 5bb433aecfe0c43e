"""`measure` of a file with nothing but shocks."""

import json

import pytest

from tests.cli.command import run_command
from tests.search.test_pile_alone import shocks_only


def test_it_says_what_is_known_of_each_and_which_two_belong_together(tmp_path):
    (tmp_path / "pile.toml").write_text(shocks_only(), encoding="utf-8")
    done = run_command("measure", "pile.toml", cwd=tmp_path)
    said = " ".join(done.stdout.split())
    assert done.returncode == 0
    assert said.startswith("In hand")
    assert "Use A and B." in said
    assert "No vehicle is drawn in this file yet" in said
    document = json.loads(run_command("measure", "pile.toml", "--json", cwd=tmp_path).stdout)
    assert document["springs"]["A"]["rate"]["value"] == pytest.approx(18.04, abs=0.01)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [("rod = 13.7", 'rod = "13 furlongs"', "furlongs"), ("[pile.B]", "[pile.B]\ncolour = 3", "colour")],
)
def test_a_fault_of_the_shocks_themselves_is_refused(old, new, said, tmp_path):
    (tmp_path / "pile.toml").write_text(shocks_only().replace(old, new, 1), encoding="utf-8")
    done = run_command("measure", "pile.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
