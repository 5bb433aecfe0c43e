"""A tyre's rate by scale and ruler, without a file."""

import json

import jsonschema
import pytest

from leverwright.wire.schema import generated
from tests.cli.command import run_command

LOADS, HEIGHTS = ("--tyre-loads", "105", "155"), ("--tyre-heights", "400", "390.5")


def test_the_swamp_buggys_tyre(tmp_path):
    """+50 kg lowers the axle 9.5 mm: 51.6 N/mm; half of it is the most that a wheel rate should be."""
    done = run_command("measure", *LOADS, *HEIGHTS, cwd=tmp_path)
    assert done.returncode == 0
    assert done.stdout.startswith("The tyre gives 51.6 N/mm.")
    assert "tyre = 51.6" in done.stdout
    assert "25.8 N/mm" in done.stdout
    assert "cannot be told" in done.stdout


def test_with_its_errors_as_json(tmp_path):
    loads = ("--tyre-loads", "105 ± 0.5 kg", "155 ± 0.5 kg")
    heights = ("--tyre-heights", "400 ± 0.5 mm", "390.5 ± 0.5 mm")
    done = run_command("measure", *loads, *heights, "--json", cwd=tmp_path)
    document = json.loads(done.stdout)
    jsonschema.validate(document, json.loads(generated()["docs/reference/schema/tyre.json"]))
    # two readings: share² = 2 ((0.5 / 50)² + (0.5 / 9.5)²)
    assert document["rate"]["value"] == pytest.approx(51.614, abs=0.001)
    assert document["rate"]["error"] / document["rate"]["value"] == pytest.approx(0.0758, abs=0.0005)
    assert 'tyre = "51.6 ± 3.9 N/mm"' in document["sentences"][1]


def test_a_tyre_that_stiffens_is_said(tmp_path):
    words = ("--tyre-loads", "50", "100", "200", "--tyre-heights", "400", "390", "380")
    assert "not one rate" in run_command("measure", *words, cwd=tmp_path).stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((*LOADS, "--tyre-heights", "400"), "2 loads and 1 heights"),
        ((*LOADS, "--tyre-heights", "400", "400"), "no lower"),
        ((*LOADS, "--tyre-heights", "400", "much"), "--tyre-heights"),
        (LOADS, "2 loads and 0 heights"),
        (("cart.toml", *LOADS), "a tyre beside it"),
        (("cart.toml", "--tyre-heights", "400"), "a tyre beside it"),
        ((), "neither a file nor a tyre"),
    ],
)
def test_what_is_refused(words, said, tmp_path):
    done = run_command("measure", *words, cwd=tmp_path)
    assert done.returncode == 2
    assert said in " ".join(done.stderr.split())
