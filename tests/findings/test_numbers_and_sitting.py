"""Findings of "Can I trust my numbers?", "Does it sit right?" and the tyre's share: each fires and just does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from leverwright import Project, Study
from leverwright.findings import judge
from tests.findings.vehicles import check_fires, the_one

FOLDER = Path(__file__).parent


def study(path, *changes):
    project = Project.read(FOLDER / f"{path}.toml")
    for key, value in changes:
        project = project.with_value(key.split("."), value)
    return Study(project)


def found(of, name):
    return [finding for finding in judge(of) if finding.id == name]


# id, severity, number in SI by arithmetic (the file says it), its tolerance, words of the sentence
# (on-preload: the exact ratio at full droop is 0.805, which adds 2.6 N)
FIRES = [
    ("pose-unstated", "watch", None, None, ("pose", "hanging")),
    ("unsprung-unstated", "watch", None, None, ("front", "unsprung")),
    ("shock-unused", "watch", None, None, ("spare",)),
    ("mass-unused", "watch", None, None, ("driver", "carries")),
    ("body-of-one-point", "watch", None, None, ("strap-eye-plate",)),
    ("side-unstated", "watch", None, None, ("horn", "6 mm")),
    ("shock-does-not-fit", "stop", 1e-3, 1e-9, ("271 mm", "longer", "270 mm")),
    ("number-unlikely", "watch", 25e-3, 1e-9, ("front", "25 mm")),
    ("sides-differ", "fix", 8e-3, 1e-9, ("tab-left", "tab-right", "8 mm")),
    ("on-preload", "fix", 422.4 - 411.9, 3.0, ("front", "collar")),
    ("sag-outside", "fix", 0.45, 0.01, ("front", "30 to 40 %")),
    ("coil-loose", "fix", 3e-3, 1e-6, ("shock", "3 mm")),
    ("gas-lifts", "watch", 5.7e-3, 0.1e-3, ("100 N", "5.7 mm")),
    ("frequency-outside", "fix", 2.91, 0.02, ("front", "1.5 to 2.7 Hz")),
    ("excitation-near", "fix", 2.91 / 2.5, 0.01, ("2.50 Hz", "front")),
    ("falls-over", "stop", 0.0, 1e-6, ("rear-left", "rear-right")),
    ("table-short", "fix", 6e-3, 1e-5, ("coil", "44 mm", "50 mm")),
    ("tyre-is-suspension", "watch", 1 - 2.65 / 2.90, 0.01, ("2.90 Hz", "air")),
]
IDS = [row[0] for row in FIRES]


@pytest.mark.parametrize(("name", "severity", "number", "tolerance", "words"), FIRES, ids=IDS)
def test_it_fires_with_its_number_and_names_the_place(name, severity, number, tolerance, words):
    check_fires(the_one(name), severity, None if number is None else (number, tolerance), words)


def test_a_shock_drawn_too_short_stops():
    (finding,) = found(
        study("shock-does-not-fit/near_miss", ("points.spring-eye", [41, 560])), "shock-does-not-fit"
    )
    assert finding.severity == "stop"
    assert "1 mm shorter" in finding.sentence


def test_a_hanging_wheel_has_its_shock_open():
    (finding,) = found(study("sag-outside/near_miss", ("pose", "hanging")), "shock-does-not-fit")
    assert finding.number == pytest.approx(19e-3, abs=1e-6)  # 270 - 251
    assert "hanging" in finding.sentence


def test_a_hanging_wheel_with_its_shock_open_is_right():
    changes = [("pose", "hanging"), ("points.spring-eye", [-9, 560])]  # 269 long: 1 mm by the tape
    assert found(study("sag-outside/near_miss", *changes), "shock-does-not-fit") == []


def test_a_vehicle_measured_standing_stands_as_drawn():
    """As drawn the spring carries 42 kg; 54 kg stand lower: (529.6 - 404.8) N / 14 N/mm is some 9 mm."""
    assert found(study("sag-outside/near_miss", ("pose", "standing")), "shock-does-not-fit") == []
    heavy = study("sag-outside/near_miss", ("pose", "standing"), ("wheels.front.load", 60))
    (finding,) = found(heavy, "shock-does-not-fit")
    assert finding.number == pytest.approx(9e-3, abs=1e-3)


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("points.arm-tab", [320, -20], "below the ground"),
        ("points.spring-eye", [-9000, 560], "nearest other point"),
        ("bars.link.length", 2100, "2100 mm long"),
        ("wheels.front.radius", 650, "650 mm"),
        ("shocks.coil.rate", 0.4, "0.4 N/mm"),
        ("shocks.coil.rate", 2200, "2200 N/mm"),
    ],
)
def test_each_slip_of_unit_or_sign_is_asked_about(key, value, words):
    sentences = [
        finding.sentence for finding in found(study("sag-outside/near_miss", (key, value)), "number-unlikely")
    ]
    assert any(words in sentence for sentence in sentences)


def test_unlike_rates_left_and_right_stop_from_ten_percent_on():
    """26 against 27.5: 5.6 %; against 29: 10.9 %; against 27: 3.8 %."""
    text = (
        (FOLDER / "sides-differ/near_miss.toml")
        .read_text(encoding="utf-8")
        .replace(
            "[wheels.rear-left]",
            "[shocks.other]\nrate = RATE\nlength_open = 270\nlength_closed = 215\npreload = 3\n\n"
            '[springs.spring-right]\nshock = "other"\n\n[wheels.rear-left]',
        )
    )
    severities = {}
    for rate in (27, 27.5, 29):
        of = Study(Project.from_text(text.replace("RATE", str(rate)), name="sides.toml"))
        severities[rate] = [finding.severity for finding in found(of, "sides-differ")]
    assert severities == {27: [], 27.5: ["fix"], 29: ["stop"]}


def test_unlike_links_left_and_right_are_told():
    (finding,) = found(study("sides-differ/near_miss", ("bars.link-right.length", 215)), "sides-differ")
    assert finding.number == pytest.approx(215e-3 - 210e-3, abs=1e-6)


def test_unlike_loads_left_and_right_are_told():
    (finding,) = found(study("sides-differ/near_miss", ("wheels.rear-right.load", 52)), "sides-differ")
    assert finding.number == pytest.approx(6 / 49)
    assert finding.severity == "watch"


def test_what_stands_on_its_stops_is_bottomed():
    """120 kg sprung: 1177 N, and fully closed the spring gives 22 * 54 * 0.77 = 915 N."""
    (finding,) = found(study("sag-outside/fires", ("wheels.front.load", 126)), "sag-outside")
    assert "Bottomed" in finding.sentence


def test_gas_warns_of_a_collar_that_would_loosen_its_coil():
    """100 N on 22 N/mm is 4.5 mm, more than the 4 mm of preload."""
    (finding,) = found(study("gas-lifts/fires"), "gas-lifts")
    assert "go loose" in finding.sentence
    (finding,) = found(study("gas-lifts/fires", ("shocks.coil.preload", 6)), "gas-lifts")
    assert "go loose" not in finding.sentence


def test_a_frequency_outside_common_practice_is_a_watch():
    """25 N/mm at ratio 1.0 with 20 kg is 5.6 Hz; no goal says otherwise."""
    heavy_spring = [("shocks.coil.rate", 60), ("wheels.front.load", 48)]
    (finding,) = found(study("sag-outside/near_miss", *heavy_spring), "frequency-outside")
    assert finding.severity == "watch"
    assert "usual" in finding.sentence


def test_slabs_that_a_spring_amplifies_are_told_though_far_from_its_own_rhythm():
    """1.67 Hz against 2.5: 1 / (1 - 0.444) = 1.8 times; calm below 1.67 / root 2 = 1.18 Hz, 179 mm of sag."""
    of = Study(Project.read(FOLDER.parents[1] / "examples" / "camera-dolly.toml"))
    (finding,) = found(of, "excitation-near")
    assert finding.severity == "watch"
    for word in ("1.67 Hz", "1.8 times", "1.18 Hz", "179 mm"):
        assert word in finding.sentence


def test_swamp_buggys_tyres_are_its_suspension():
    """13 %; 2 Hz at 0.74 with 41 mm, 1.45 Hz at 0.48 with 97 mm."""
    of = Study(Project.read(FOLDER.parents[1] / "examples" / "swamp-buggy.toml"))
    (finding,) = found(of, "tyre-is-suspension")
    for word in ("13 %", "26.2 N/mm", "0.74", "41 mm", "11.1 N/mm", "0.48", "97 mm"):
        assert word in finding.sentence


def test_a_spring_with_no_rate_where_it_stands_is_no_divisor_of_roll():
    """A coil 60 mm too short presses nowhere in its 55 mm of stroke: no rate in heave, none in roll."""
    assert found(study("sides-differ/near_miss", ("shocks.coil.preload", -60)), "falls-over") == []


def test_a_wheel_that_stands_on_a_dead_centre_is_told_so_and_not_in_tons():
    """The links of this vehicle are stretched at full droop: the spring there would hold any load."""
    found = judge(study("link-short/fires"))
    (held,) = [f for f in found if f.id == "on-preload"]
    assert "on its dead centre" in held.sentence
    assert "more would have to come" not in held.sentence
    assert not [f for f in found if f.id == "ratio-falls"]


def test_a_spring_named_shock_and_a_wheel_named_wheel_are_named_once():
    drawn = judge(study("shock-does-not-fit/fires"), "shock-does-not-fit")
    assert drawn[0].sentence.startswith("The shock is drawn 271 mm long")
    stretched = judge(study("link-short/fires"), "link-short")
    assert stretched[0].sentence.startswith("The wheel stops at -135 mm")
