"""A file describes one small vehicle; a crowd of wheels or loose bodies is refused before anything is solved."""

import pytest

from leverwright.project import Project, ProjectError
from leverwright.project.limits import LIMITS
from leverwright.study import Study

HEAD = 'leverwright = 1\ntitle = "T"\npose = "on blocks"\nplane = "xz"\nerror = 1.0\n[points]\n'


def corners(count: int) -> str:
    points, arms, chassis, rest = "", "", [], ""
    for k in range(count):
        x = 1000.0 * k / max(count, 1)
        points += (
            f"p{k} = [{x}, 200]\nh{k} = [{x - 400}, 200]\ns{k} = [{x - 250}, 205]\ne{k} = [{x - 250}, 455]\n"
        )
        arms += f'arm{k} = ["p{k}", "h{k}", "s{k}"]\n'
        chassis += [f'"p{k}"', f'"e{k}"']
        rest += f'[springs.spring{k}]\nends = ["s{k}", "e{k}"]\nshock = "coil"\n'
        rest += f'[wheels.w{k}]\nbody = "arm{k}"\ncentre = "h{k}"\nradius = 200\nload = 40\nunsprung = 5\n'
    shock = "[shocks.coil]\nrate = 20\nlength_open = 280\nlength_closed = 210\npreload = 3\n"
    return f"{HEAD}{points}[bodies]\nchassis = [{', '.join(chassis)}]\n{arms}{shock}{rest}"


def loose(count: int) -> str:
    """One arm with a chain of bodies of three points hung on it."""
    text = corners(1)
    points = "".join(
        f"c{k} = [{-250 + 3 * k}, {205 - 5 * k - 5}]\nd{k} = [{-240 + 3 * k}, {190 - 5 * k}]\n"
        for k in range(count)
    )
    bodies = "".join(
        f'link{k} = ["{"s0" if k == 0 else f"c{k - 1}"}", "c{k}", "d{k}"]\n' for k in range(count)
    )
    return text.replace("[bodies]\n", points + "[bodies]\n").replace("arm0 = ", bodies + "arm0 = ")


def refused(text: str) -> ProjectError:
    with pytest.raises(ProjectError) as caught:
        Project.from_text(text)
    return caught.value


def test_one_wheel_more_than_allowed_is_refused() -> None:
    assert Project.from_text(corners(LIMITS.wheels)).wheels
    fault = refused(corners(LIMITS.wheels + 1)).fault
    assert "17 wheels" in fault.found
    assert (fault.line, fault.key) == (None, None)


def test_a_heap_of_loose_bodies_is_refused() -> None:
    fault = refused(loose(LIMITS.freedoms)).fault
    assert "freedoms" in fault.found


@pytest.mark.parametrize(
    "text", [corners(LIMITS.wheels), loose((LIMITS.freedoms - 1) // 3)], ids=["wheels", "loose"]
)
def test_the_largest_that_is_allowed_is_answered(text: str) -> None:
    """Five seconds are promised: the benchmarks tell the figure, here it must come to an end."""
    assert Study(Project.from_text(text)).answers
