"""The garden cart on salvaged shocks: what its story computes, as the whole vehicle answers it.

The story takes a ratio of 0.80 all the way and g = 9.81; the drawn lever keeps 0.80 to half a percent: 0.1 mm.
"""

from pathlib import Path

import pytest

from leverwright import Project, Study

CART = Path(__file__).parents[2] / "examples" / "garden-cart.toml"


def study(*edits):
    text = CART.read_text(encoding="utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return Study(Project.from_text(text))


def value(of, name, wheel="rear-left"):
    return of.answers[wheel].of[name].value


TIGHTENED = ('[shocks.left]\npile = "A"', '[shocks.left]\npile = "A"\npreload = 12.05')
ON_D = ('[shocks.left]\npile = "A"', '[shocks.left]\npile = "D"')


@pytest.mark.parametrize(
    ("edits", "wheel", "empty", "loaded"),
    [
        ((), "rear-left", 19.7, 46.9),
        ((), "rear-right", 10.3, 37.4),
        ((ON_D,), "rear-left", 23.3, 53.9),
        ((TIGHTENED,), "rear-left", 10.4, 37.5),
    ],
    ids=["A", "B", "D", "A tightened"],
)
def test_where_it_stands_empty_and_loaded(edits, wheel, empty, loaded):
    of = study(*edits)
    assert value(of, "sag", wheel) * 1e3 == pytest.approx(loaded, abs=0.1)
    assert value(of.under("empty"), "sag", wheel) * 1e3 == pytest.approx(empty, abs=0.1)


def test_rhythm_and_share_of_travel_once_a_is_tightened():
    of = study(TIGHTENED)
    assert value(of, "ride_frequency_without_tyre") == pytest.approx(2.17, abs=0.005)
    assert value(of.under("empty"), "ride_frequency_without_tyre") == pytest.approx(3.12, abs=0.005)
    assert value(of, "sag_percent") == pytest.approx(0.50, abs=0.005)
    assert value(of.under("empty"), "sag_percent") == pytest.approx(0.14, abs=0.005)
    assert value(study(), "sag_percent") == pytest.approx(0.62, abs=0.006)


def test_its_errors_come_from_the_bench_too():
    """Without the bench's ± the standing height would be told too sure: rate, preload and gas err together."""
    with_bench = study().answers["rear-right"].of["sag"].error
    stated = study(
        (
            '[shocks.right]\npile = "B"',
            '[shocks.right]\npile = "B"\nrate = 18.117785875\npreload = 4.614343707\ngas = 134.351105',
        )
    )
    assert stated.answers["rear-right"].of["sag"].value == pytest.approx(
        value(study(), "sag", "rear-right"), rel=1e-6
    )
    assert with_bench > stated.answers["rear-right"].of["sag"].error
