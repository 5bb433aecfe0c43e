"""`measure` says what was measured, in words or as a document."""

from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOUND = ROOT / "tests" / "findings"
CART = str(ROOT / "examples" / "garden-cart.toml")
RACER = str(ROOT / "examples" / "gravity-racer.toml")


def _said(ended):
    return " ".join(ended.out.split())


def test_places_tapes_and_the_next_one_are_said(leverwright):
    ended = leverwright("measure", str(FOUND / "tapes-disagree" / "fires.toml"))
    said = _said(ended)
    assert (ended.status, ended.notes) == (0, "")
    assert "Places" in said
    assert "hub x between " in said
    assert "a-c reads 470.0 mm, left out: the others say 45" in said
    assert "% checked by the others" in said
    assert "Next: Tape from " in said
    assert "FIX: Tape a-c (dot-a and dot-c) reads 12 mm more" in said
    assert "No margin here is permission to ride" in said


def test_a_place_that_nothing_holds_stops(leverwright):
    ended = leverwright("measure", str(FOUND / "place-undetermined" / "fires.toml"))
    assert ended.status == 1
    assert "nothing holds it" in _said(ended)
    assert "STOP: spring-eye can lie anywhere round dot-a" in _said(ended)


def test_shocks_the_pile_and_load_sets_are_said(leverwright):
    said = _said(leverwright("measure", CART))
    assert "Shock A of the pile Rate between " in said
    assert "Use A and B." in said
    assert "C is out:" in said
    assert "Load set usual, the usual one rear-left" in said
    assert "All wheels together: 140 kg." in said
    assert "Load set empty" in said
    assert "Sits down between " in said
    assert "±" not in said


def test_a_shock_that_is_of_the_pile_is_told_once(leverwright):
    said = _said(leverwright("measure", CART))
    assert "Shock left It is A of the pile: see there." in said
    assert said.count("they agree, and are taken together by their weights") == 1


def test_sentences_come_in_inches_on_request(leverwright):
    said = _said(leverwright("measure", str(FOUND / "tapes-disagree" / "fires.toml"), "--units", "inch"))
    assert " mm" not in said.split("Can I trust my numbers?")[0]
    assert " in" in said


def test_a_scale_a_tilt_and_where_it_tips_are_said(leverwright):
    ended = leverwright("measure", str(ROOT / "examples" / "step-free-buggy.toml"))
    said = _said(ended)
    assert "front-left between 59.5 and 61.5 kg, weighed" in said
    assert "above the ground, by lifting an end." in said
    assert "It tips sideways at between 0.66 and 0.80 of gravity" in said
    assert "The chassis stands " in said


def test_what_a_raised_wheel_and_an_open_scale_did_is_said(leverwright):
    said = _said(leverwright("measure", str(ROOT / "examples" / "swamp-buggy-weighed.toml")))
    assert "rear-left stood 38 mm higher than the others while it was weighed" in said
    said = _said(leverwright("measure", str(FOUND / "scale-does-not-close" / "fires.toml")))
    assert "A known mass is read 1.2 kg of 20 kg too much, over the 1 kg that is near enough." in said


def test_a_tyre_by_scale_and_ruler_is_said_once_for_both_sides(leverwright):
    said = _said(leverwright("measure", str(ROOT / "examples" / "swamp-buggy-weighed.toml")))
    assert "Tyre of rear-left The tyre gives between 36 and 68 N/mm." in said
    assert "Nothing checks two readings" in said
    assert "rear-right The tyre" not in said


def test_a_coupling_is_said(leverwright):
    said = _said(leverwright("measure", str(FOUND / "coupling-share" / "fires.toml")))
    assert "The coupling carries 18 kg, 6.0 % of the whole, level" in said


def test_a_file_that_measures_nothing_says_what_would(leverwright):
    ended = leverwright("measure", RACER)
    assert ended.status == 0
    assert "Nothing in this file is measured by tape, scale or bench" in _said(ended)


def test_the_document_is_metric_whatever_is_asked(leverwright):
    path = str(FOUND / "tapes-disagree" / "fires.toml")
    plain, inch = (
        leverwright("measure", path, "--json"),
        leverwright("measure", path, "--json", "--units", "inch"),
    )
    assert (plain.status, plain.out) == (inch.status, inch.out)
    assert plain.document["leverwright"] == 1
    assert plain.document["tapes"]["doubted"][0]["tapes"] == ["a-c"]


@pytest.mark.parametrize("extra", [(), ("--json",)])
def test_a_bad_file_is_refused_with_status_2(leverwright, tmp_path, extra):
    path = tmp_path / "cart.toml"
    path.write_text('leverwright = 1\n[tape.one]\nbetween = ["a"]\n', encoding="utf-8")
    ended = leverwright("measure", str(path), *extra)
    assert ended.status == 2
    assert "tape.one.between" in (ended.out + ended.said)


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("tape.a-c.reads", "458", "reads = 458"),
        ("tape.a-c.reads", "[458, 458.5]", "reads = [458, 458.5]"),
        ("tape.a-c.reads", "18 1/32 in ± 1 mm", 'reads = "18 1/32 in ± 1 mm"'),
        ("points.hub.sketch", "[400, 250]", "hub = { sketch = [400, 250] }"),
        ("scale.error", "0.5", "[scale]\nerror = 0.5"),
        ("weighed.front.reads", "[48, 48.5]", "[weighed.front]\nreads = [48, 48.5]"),
    ],
)
def test_set_writes_a_measurement(leverwright, tmp_path, key, value, says):
    path = tmp_path / "racer.toml"
    path.write_text((FOUND / "tapes-disagree" / "fires.toml").read_text(encoding="utf-8"), encoding="utf-8")
    assert leverwright("set", str(path), key, value).status == 0
    assert says in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("key", ["weighed.frnt.reads", "bench.pair-b.marks", "masses.rider.mass"])
def test_set_begins_nothing_by_a_slip_in_a_name(leverwright, tmp_path, key):
    path = tmp_path / "racer.toml"
    text = (FOUND / "tapes-disagree" / "fires.toml").read_text(encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    assert leverwright("set", str(path), key, "48").status == 2
    assert path.read_text(encoding="utf-8") == text


def test_a_load_that_tips_it_over_standing_is_a_stop_of_measure_too(leverwright, tmp_path):
    text = (ROOT / "examples" / "step-free-buggy.toml").read_text(encoding="utf-8")
    behind = text.replace("at = [450, 0, 866]", "at = [-4000, 0, 866]")
    assert behind != text
    (tmp_path / "cart.toml").write_text(behind, encoding="utf-8")
    ended = leverwright("measure", str(tmp_path / "cart.toml"))
    assert ended.status == 1
    assert "STOP: With 'usual' aboard it tips over" in _said(ended)


def test_check_says_about_beside_each_figure_that_hangs_on_a_sketch(leverwright):
    told = leverwright("check", str(FOUND / "place-undetermined" / "fires.toml")).out
    figures = told.split("Can I trust my numbers?")[0].split("cannot be said")[0]
    assert figures.count("about ") == figures.count("(from the sketch") > 5
    sharp = [line for line in figures.splitlines() if line.startswith("  ") and " mm" in line.split("(")[0]]
    assert sharp
    assert all("about " in line for line in sharp)


def test_a_reading_that_fits_nowhere_near_has_no_number(leverwright, tmp_path):
    text = (FOUND / "tapes-disagree" / "fires.toml").read_text(encoding="utf-8")
    assert text.count("reads = 470\n") == 1
    (tmp_path / "far.toml").write_text(text.replace("reads = 470\n", "reads = 47000\n"), encoding="utf-8")
    said = _said(leverwright("measure", str(tmp_path / "far.toml")))
    assert "a-c reads 47000.0 mm, left out: the others say over 10 m from that" in said
    assert "reads over 10 m more than the others put there" in said
