"""The ± of the roll rate, by moving every stated number up and down and solving the whole vehicle again."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leverwright import Project, Study

EXAMPLES = Path(__file__).parents[2] / "examples"
SHARE = (
    0.02  # of a standard deviation each way: small against what the geometry bends, large against rounding
)


def roll(project: Project) -> float:
    value = Study(project, quick=True).axles[0].roll_rate.value
    assert value is not None
    return value


def shifted(project: Project, share: float) -> Iterator[Project]:
    """The project with each uncertain number moved by `share` of its standard deviation, one at a time."""
    for name, point in project.points.items():
        for axis, stated in enumerate(point.errors):
            sigma = project.error if stated is None else stated
            assert sigma is not None
            at = list(point.at)
            at[axis] += share * sigma
            yield replace(project, points={**project.points, name: replace(point, at=tuple(at))})
    for table, keys in (
        ("shocks", ("rate", "length_open", "length_closed", "preload", "gas")),
        ("wheels", ("load", "unsprung", "tyre")),
    ):
        for name, part in getattr(project, table).items():
            for key in keys:
                quantity = getattr(part, key)
                if quantity is not None and quantity.error:
                    moved = replace(quantity, value=quantity.value + share * quantity.error)
                    yield replace(
                        project, **{table: {**getattr(project, table), name: replace(part, **{key: moved})}}
                    )


@pytest.mark.parametrize("name", ["hay-trailer", "forest-buggy"])
def test_the_spread_of_the_roll_rate_is_that_of_every_number_moved(name: str) -> None:
    project = Project.read(EXAMPLES / f"{name}.toml")
    stated = Study(project).axles[0].roll_rate.error
    up = [roll(each) for each in shifted(project, SHARE)]
    down = [roll(each) for each in shifted(project, -SHARE)]
    change = (np.array(up) - np.array(down)) / (2 * SHARE)
    assert stated == pytest.approx(
        float(np.sqrt(change @ change)), rel=2e-3
    )  # the bend left in a step of 0.04 sigma
