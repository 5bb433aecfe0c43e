"""What `measure` prints, against arithmetic on the readings and the drawings that they were taken from."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import msgspec
import pytest

from leverwright import Project, Study
from leverwright.wire.measure import Figure, MeasureDocument
from leverwright.wire.measure_document import measure_document
from leverwright.wire.strict import printed
from tests.project.measured_texts import MEASURED, MEASURED_FLAT
from tests.project.vehicle_texts import FLAT

ROOT = Path(__file__).parents[2]
FOUND = ROOT / "tests" / "findings"
GRAVITY = 9.80665


@cache
def _of(path: str):
    return json.loads(printed(measure_document(Study(Project.read(ROOT / path)))))


def _document(text: str):
    return json.loads(printed(measure_document(Study(Project.from_text(text)))))


def test_a_file_that_measures_nothing_has_an_empty_document():
    document = _document(FLAT)
    assert (document["tapes"], document["pile"]) == (None, None)
    assert (document["springs"], document["tyres"], document["load_sets"]) == ({}, {}, {})


@pytest.mark.parametrize("text", [MEASURED, MEASURED_FLAT])
def test_a_document_is_strict_and_is_what_its_schema_says(text):
    raw = printed(measure_document(Study(Project.from_text(text))))
    assert raw.isascii()
    read = msgspec.json.decode(raw, type=MeasureDocument)
    assert printed(read) == raw


def test_a_bad_tape_is_left_out_and_says_how_far_off_it_is():
    tapes = _of("tests/findings/tapes-disagree/fires.toml")["tapes"]
    (doubted,) = tapes["doubted"]
    assert doubted["tapes"] == ["a-c"]
    assert doubted["left_out"] is True
    assert doubted["gap_mm"] == pytest.approx(12, abs=0.5)  # readings are rounded to half a millimetre
    (row,) = (row for row in tapes["readings"] if row["name"] == "a-c")
    assert (row["left_out"], row["reads_mm"], row["sigma_mm"]) == (True, 470, 1)
    assert row["adjusted_mm"] == pytest.approx(458, abs=0.5)
    assert all(not other["left_out"] for other in tapes["readings"] if other is not row)


def test_a_residual_is_what_the_places_say_less_what_was_read():
    tapes = _of("tests/findings/tapes-disagree/near_miss.toml")["tapes"]
    places = {name: place["at_mm"] for name, place in tapes["places"].items()}
    distances = [row for row in tapes["readings"] if row["kind"] == "between"]
    assert len(distances) > 10
    for row in distances:
        one, other = (places[point] for point in row["points"])
        apart = sum((x - y) ** 2 for x, y in zip(one, other, strict=True)) ** 0.5
        assert row["adjusted_mm"] == pytest.approx(apart, abs=1e-6)
        assert row["residual_mm"] == pytest.approx(apart - row["reads_mm"], abs=1e-6)
    # The redundancies of all readings add up to the readings that are more than needed.
    assert sum(row["redundancy"] for row in tapes["readings"]) == pytest.approx(tapes["spare"], abs=1e-6)


def test_a_place_has_a_number_an_error_a_word_for_how_and_its_tapes():
    place = _of("tests/findings/tapes-disagree/near_miss.toml")["tapes"]["places"]["hub"]
    assert place["how"] == "tapes"
    assert len(place["at_mm"]) == len(place["error_mm"]) == 2
    assert all(0.1 < error < 3 for error in place["error_mm"])
    assert set(place["by"]) >= {"a-hub"}
    assert place["said"].startswith("x between ")


def test_what_nothing_holds_has_no_error_and_the_next_tape_holds_it():
    tapes = _of("tests/findings/place-undetermined/fires.toml")["tapes"]
    assert tapes["places"]["spring-eye"]["how"] == "open"
    assert tapes["places"]["spring-eye"]["error_mm"] == [None, None]
    assert [one["points"] for one in tapes["open"]] == [["spring-eye"]]
    assert tapes["next"][0]["opens"] is True
    assert "spring-eye" in tapes["next"][0]["points"]
    assert tapes["next"][0]["sentence"].endswith("it holds what nothing holds now")


def test_the_next_tape_makes_answers_surer_and_says_by_how_much():
    tapes = _of("tests/findings/tapes-disagree/near_miss.toml")["tapes"]
    best, *others = tapes["next"]
    assert all(best["gain_percent"] >= other["gain_percent"] for other in others)
    assert 0 < best["gain_percent"] < 100
    assert best["answers"]
    for answer in best["answers"]:
        assert answer["error_after"] <= answer["error_before"]
    surest = min(best["answers"], key=lambda one: one["error_after"] / one["error_before"])
    assert surest["said_before"] in best["sentence"]
    assert surest["said_after"] in best["sentence"]


def test_without_an_error_of_the_tape_no_place_has_one():
    text = (FOUND / "tapes-disagree" / "near_miss.toml").read_text(encoding="utf-8")
    tapes = _document(text.replace("tape_error = 1.0\n", ""))["tapes"]
    assert (tapes["stated"], tapes["s0"]) == (False, None)
    assert all(error is None for place in tapes["places"].values() for error in place["error_mm"])


def test_a_bench_gives_rate_start_and_friction_as_a_ruler_does():
    # In and out at 0, 10, 20, 30 mm: means 8.5, 27, 45.25, 63.75 kg, so 18.4 kg a 10 mm; half the difference 2.2 kg.
    springs = _of("examples/garden-cart.toml")["springs"]
    one = springs["A"]
    assert one["on"] == "pile"
    assert one["bench"]["rates_n_per_mm"][0] == pytest.approx(1.84 * GRAVITY, rel=0.01)
    assert one["start"]["value"] == pytest.approx(8.6 * GRAVITY, rel=0.02)
    assert one["friction"]["value"] == pytest.approx(2.2 * GRAVITY, rel=0.05)
    assert one["rate"]["said"].startswith("between ")
    # Wire 6 mm, mean diameter 46 mm, 7.5 turns, 78.5 GPa: G d4 / (8 D3 n).
    by_wire = 78_500 * 6**4 / (8 * 46**3 * 7.5)
    assert one["wire"]["rate"]["value"] == pytest.approx(by_wire, rel=1e-9)
    assert one["routes"]["agree"] is True
    slips = {slip["slip"]: slip["made_n_per_mm"] for slip in one["wire"]["slips"]}
    assert slips["end-coils"] == pytest.approx(by_wire * 7.5 / 9.5, rel=1e-9)


def test_a_seized_shock_is_rejected_by_the_reading_that_shows_it():
    one = _of("examples/garden-cart.toml")["springs"]["C"]
    assert one["rejected"] is True
    assert one["unfit"][0]["reason"] == "stops-short"
    assert "3 mm of 30 mm" in one["unfit"][0]["sentence"]


def test_the_pile_names_the_pair_and_how_to_trim_it():
    pile = _of("examples/garden-cart.toml")["pile"]
    assert pile["best"] == ["A", "B"]
    assert pile["shocks"]["C"]["verdict"] == "reject"
    (pair,) = (one for one in pile["pairs"] if one["shocks"] == ["A", "B"])
    # B starts 13.7 kg later, all of it gas: 134 N by 18.1 N/mm.
    assert pair["trim"]["tighten"] == "A"
    assert pair["trim"]["by_mm"] == pytest.approx(13.7 * GRAVITY / 18.05, rel=0.02)
    assert pair["trim"]["may_loosen"] is False
    least, best, most = pile["shocks"]["B"]["wants"][0]["ratio"]
    assert least < best < most


def test_wheels_weighed_add_up_and_the_scale_does_not_close():
    # 60, 60, 70 and 70 kg, each 0.5 off by chance; 21.2 read for 20.
    load_set = _of("tests/findings/scale-does-not-close/fires.toml")["load_sets"]["usual"]
    assert load_set["usual"] is True
    assert load_set["total"]["value"] == pytest.approx(260)
    assert [one["by"] for one in load_set["wheels"].values()] == ["weighed"] * 4
    assert load_set["cross"]["value"] == pytest.approx(50)
    (known,) = (one for one in load_set["closures"] if one["kind"] == "known")
    assert (known["closes"], known["allowed_kg"]) == (False, 1)
    assert known["off_kg"] == pytest.approx(1.2)
    assert load_set["balance"]["ahead"]["value"] == pytest.approx(1500 * 120 / 260)
    assert load_set["balance"]["left"]["value"] == pytest.approx(0)


def test_a_raised_wheel_tells_what_came_on_it():
    (raised,) = _of("examples/swamp-buggy-weighed.toml")["load_sets"]["usual"]["raised"]
    assert (raised["wheel"], raised["height_mm"]) == ("rear-left", 38)
    assert raised["shift_kg"] > 10


def test_a_tyre_by_scale_and_ruler_is_said_once_for_both_sides():
    # 50 kg more, 9.5 mm lower: 50 x 9.80665 / 9.5 = 51.61 N/mm; two readings lie on their own line.
    tyres = _of("examples/swamp-buggy-weighed.toml")["tyres"]
    assert {wheel: each["twin_of"] for wheel, each in tyres.items()} == {
        "front-left": None,
        "front-right": "front-left",
        "rear-left": None,
        "rear-right": "rear-left",
    }
    left = tyres["rear-left"]
    assert (left["rate"]["value"], left["rate"]["unit"]) == (pytest.approx(51.61, abs=0.01), "N/mm")
    assert left["rate"]["said"] == "between 36 and 68 N/mm"
    assert [list(each.values()) for each in left["readings"]] == [
        pytest.approx([105, 400, 400]),
        pytest.approx([155, 390.5, 390.5]),
    ]
    assert "A height that states no ± is taken to be read to 1 mm (common practice)." in left["sentences"]


def test_three_readings_of_a_tyre_are_checked_against_their_line():
    """Steps of 10 kg, 5 and 7 mm lower: the line falls 6 mm a step, and passes 1/3, 2/3 and 1/3 mm by them."""
    text = (ROOT / "examples" / "swamp-buggy-weighed.toml").read_text(encoding="utf-8")
    text = text.replace("[105, 155], heights = [400, 390.5]", "[100, 110, 120], heights = [400, 395, 388]")
    one = _document(text)["tyres"]["front-left"]
    off = [each["height_mm"] - each["line_mm"] for each in one["readings"]]
    # Heights are fitted as loads over heights: the slope is that of 12 mm in 20 kg to 1.4 %.
    assert off == pytest.approx([-1 / 3, 2 / 3, -1 / 3], abs=0.1)
    assert sum(off) == pytest.approx(0, abs=1e-9)
    assert any(sentence.startswith("Its 3 readings lie within 0.") for sentence in one["sentences"])


def test_a_trailer_says_what_its_coupling_carries():
    # (100 x 150 + 200 x 60) / 1500 = 18 kg of 300.
    load_set = _of("tests/findings/coupling-share/fires.toml")["load_sets"]["usual"]
    assert load_set["coupling"]["level_kg"] == pytest.approx(18)
    assert load_set["coupling"]["level_percent"] == pytest.approx(6)
    assert load_set["carries"] == ["trailer", "hay"]
    assert load_set["tipping"]["sideways"] is None
    assert "tows" in load_set["tipping"]["because"]


def test_a_height_by_tilting_and_its_tip_limit():
    load_set = _of("examples/step-free-buggy.toml")["load_sets"]["usual"]
    height = load_set["balance"]["height"]
    assert load_set["balance"]["height_by"] == "tilt"
    # Half the track of 1050 mm by the height.
    limit = load_set["tipping"]["sideways"]
    assert limit["value"] == pytest.approx(525 / height["value"], rel=1e-3)
    assert limit["said"].startswith("between ")
    assert load_set["tipping"]["leaning"]["said"] == "between 0.58 and 0.73"
    assert load_set["tipping"]["slope"]["said"] == "between 30 and 36 deg"


def test_every_load_set_has_answers_of_its_own():
    sets = _of("examples/step-free-buggy.toml")["load_sets"]
    sags = {name: one["answers"]["wheels"]["rear-left"]["sag"]["value"] for name, one in sets.items()}
    assert len(sags) == 3
    assert sags["before-boarding"] < sags["usual"] < sags["boarding"]


def test_findings_are_of_the_numbers_alone():
    findings = _of("tests/findings/scale-does-not-close/fires.toml")["findings"]
    assert "scale-does-not-close" in [one["id"] for one in findings]
    assert {one["question"] for one in findings} == {"Can I trust my numbers?"}


def _figures(value):
    if isinstance(value, dict):
        if value.keys() == set(Figure.__struct_fields__):
            yield value
        for inner in value.values():
            yield from _figures(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _figures(inner)


@pytest.mark.parametrize("path", ["examples/garden-cart.toml", "examples/step-free-buggy.toml"])
def test_no_figure_is_said_with_a_bare_plus_or_minus(path):
    figures = list(_figures(_of(path)))
    assert len(figures) > 10
    assert not any("±" in one["said"] for one in figures)
    assert sum(one["said"].startswith("between ") for one in figures) > 5
