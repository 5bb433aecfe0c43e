"""Places that the readings do not hold: told together, with what would hold them."""

from __future__ import annotations

from leverwright import Study
from leverwright.findings import Finding, judge
from leverwright.project import Project
from tests.findings.vehicles import HERE

HELD = (HERE / "place-undetermined" / "near_miss.toml").read_text(encoding="utf-8")
HEIGHT = '\n[tape.{0}-high]\nheight = "{0}"\nreads = {1}\n'


def undetermined(text: str) -> list[Finding]:
    return [f for f in judge(Study(Project.from_text(text))) if f.id == "place-undetermined"]


def without(*ends: str) -> str:
    """The near miss without the tapes whose text names one of these."""
    first, *tapes = HELD.split("[tape.")
    return "[tape.".join([first, *(tape for tape in tapes if not any(end in tape for end in ends))])


def test_one_place_that_nothing_measures_is_told_with_places_to_tape_it_from() -> None:
    (finding,) = undetermined(without('"spring-eye"'))
    assert (finding.severity, finding.number, finding.points) == ("stop", 1.0, ("spring-eye",))
    assert finding.sentence.startswith(
        "Nothing measures where spring-eye is: it stands where it was sketched."
    )
    assert "Tape it from 2 places that are known" in finding.sentence


def test_several_places_that_nothing_measures_are_one_finding() -> None:
    (finding,) = undetermined(without('"spring-eye"', '"spring-hole"', '"link-hole"'))
    assert (finding.severity, finding.number) == ("stop", 3.0)
    assert "Nothing measures where 3 places are: link-hole, spring-eye and spring-hole." in finding.sentence


def test_a_vehicle_of_sketches_alone_is_one_finding_with_the_first_few_names() -> None:
    (finding,) = undetermined(without("reads"))
    assert (finding.severity, finding.number, finding.points) == ("stop", 11.0, ())
    # Those that an answer hangs on come first, by name; the marks on the frame are among the rest.
    named = "Nothing measures where 11 places are: arm-pivot, arm-tab, hub, link-hole and 7 more."
    assert finding.sentence.startswith(named)
    assert "four marks on the frame" in finding.sentence


def test_marks_alone_that_nothing_measures_stop_nothing() -> None:
    text = HELD.replace("[points]\n", "[points]\nspare = { sketch = [400, 700] }\n", 1)
    (finding,) = undetermined(text.replace('chassis = ["arm-pivot",', 'chassis = ["spare", "arm-pivot",', 1))
    assert (finding.severity, finding.points) == ("watch", ("spare",))


def test_two_heights_of_points_well_apart_are_asked_for_and_are_enough() -> None:
    text = without("-height]")
    (finding,) = undetermined(text)
    assert finding.severity == "stop"
    # Of the sketch, hub (410) and spring-eye (10) are the furthest apart along the vehicle with arm-pivot (10).
    assert "Measure two heights above the floor, of points well apart: " in finding.sentence
    asked = finding.sentence.rpartition(": ")[2].removesuffix(".").split(" and ")
    assert "hub" in asked
    heights = {"hub": 250, "spring-eye": 580, "arm-pivot": 250}
    assert not undetermined(text + "".join(HEIGHT.format(name, heights[name]) for name in asked))


def test_one_height_more_is_asked_for_where_one_is_read() -> None:
    (finding,) = undetermined(without("-height]") + HEIGHT.format("hub", 250))
    assert "Measure the height of " in finding.sentence
    assert "it is well apart from hub." in finding.sentence
