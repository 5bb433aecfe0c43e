"""Too stiff, or too soft: why? Expected values by hand.

Movement = load * 9.80665 / (rate * ratio^2) - preload / ratio.
"""

from __future__ import annotations

import pytest

from leverwright.ride.quick import QuickError, quick_verdict, read_quick
from leverwright.ride.quick_words import quick_said

ROUNDED = 0.006  # of the value: the stories round to two or three figures and use 9.81 m/s2


def verdict(arms, load, rate=None, moves=None, link_per_wheel=1.0):
    link_arm, spring_arm = arms.split("/")
    typed = {"link_arm": link_arm, "spring_arm": spring_arm, "load": load, "rate": rate, "moves": moves}
    return quick_verdict(read_quick(typed, link_per_wheel))


def change(found, kind):
    return next(change for change in found.changes if change.kind == kind)


def said(found, system="metric"):
    return quick_said(found, system)


# The gravity racer of the stories: 45 and 90 mm, 42 kg, 22 N/mm with 4 mm of preload, link at 0.8 of the arm.
RACER = ("45/90", "42 kg", "22 N/mm ± 1 %", "4.8 ± 0.1 mm", 0.8)


def test_gravity_racer_is_four_times_too_stiff_and_the_ratio_is_to_blame():
    found = verdict(*RACER)
    assert found.ratio == pytest.approx(1.60, rel=1e-9)
    assert found.wheel_rate == pytest.approx(56.3e3, rel=ROUNDED)
    assert (found.feel, found.fit, found.blame) == ("too stiff", "less", "ratio")


def test_gravity_racers_preload_is_found_from_its_movement():
    """412 / (1.6 * 22) - 1.6 * 4.8 = 4.0 mm."""
    assert verdict(*RACER).preload == pytest.approx(4.0e-3, rel=0.01)


def test_gravity_racer_swapped_moves_107_mm():
    swapped = change(verdict(*RACER), "swap")
    assert (swapped.link_arm, swapped.spring_arm) == (0.090, 0.045)
    assert swapped.after == pytest.approx(0.107, rel=ROUNDED)


def test_gravity_racer_with_equal_arms_moves_24_mm():
    equal = change(verdict(*RACER), "equal")
    assert equal.link_arm == equal.spring_arm == pytest.approx(0.065)  # between 45 and 90, in steps of 5
    assert equal.after == pytest.approx(0.0243, rel=ROUNDED)  # 412 / 14.08 - 4 / 0.8


def test_ratio_of_the_rocker_alone_is_spring_arm_by_link_arm():
    assert verdict("60/45", "50", "20").ratio == pytest.approx(0.75)
    assert verdict("60/45", "50", "20").wheel_rate == pytest.approx(20e3 * 0.75**2)


def test_equal_arms_with_a_hard_spring_blame_the_spring_and_name_the_one_needed():
    """62 * 9.80665 = 608 N on 80 N/mm: 7.6 mm. For the aim of 52.44 mm: 608 / 52.44 = 11.6 N/mm."""
    found = verdict("60/60", "62 kg", "80 N/mm", "7.6 mm")
    assert found.expected == pytest.approx(7.6e-3, rel=0.001)
    assert (found.feel, found.fit, found.blame) == ("too stiff", "agrees", "spring")
    assert found.needed_rate == pytest.approx(11.59e3, rel=0.001)
    assert "11.6 N/mm" in said(found).verdict


def test_preload_is_to_blame_where_the_wheel_would_move_enough_without_it():
    """412 N on 12 N/mm is 34.3 mm; 8 mm seen: 26.3 mm of preload."""
    found = verdict("60/60", "42 kg", "12 N/mm", "8 mm")
    assert found.blame == "preload"
    assert found.preload == pytest.approx(26.3e-3, rel=0.002)
    assert change(found, "preload").after == pytest.approx(34.3e-3, rel=0.001)


def test_a_preload_that_no_collar_gives_is_not_blamed():
    """608 N / 12 N/mm = 50.7 mm of preload would be needed to hold the wheel still."""
    found = verdict("60/60", "62 kg", "12 N/mm", "0 mm")
    assert found.preload == pytest.approx(50.7e-3, rel=0.001)
    assert (found.feel, found.blame) == ("does not move", "unknown")
    assert "seized" in said(found).verdict
    assert all(change.kind != "preload" for change in found.changes)


def test_what_moves_nothing_with_its_rate_unknown_is_not_judged():
    found = verdict("60/60", "62 kg", "unknown", "0")
    assert (found.feel, found.blame, found.changes) == ("does not move", "unknown", ())
    assert any("rate" in sentence for sentence in said(found).unsaid)


def test_more_movement_than_lever_and_spring_give_is_a_contradiction():
    """412 N on 12 N/mm is 34.3 mm; 60 mm seen: a spring of 6.86 N/mm, or 25.7 mm of loose coil."""
    found = verdict("60/60", "42 kg", "12 N/mm", "60 mm")
    assert (found.fit, found.blame, found.changes) == ("more", "unknown", ())
    assert found.working_rate == pytest.approx(6.86e3, rel=0.002)
    assert "hangs loose by 26 mm" in said(found).verdict


def test_advice_to_squash_or_bare_a_coil_carries_its_caution():
    for found in (verdict("60/60", "62 kg", "unknown", "0"), verdict(*RACER)):
        advice = [each for each in said(found).unsaid if "squashed" in each or "taken out" in each]
        assert advice
        assert all("qualified person" in each and "local rules" in each for each in advice)


def test_a_movement_that_no_spring_and_no_loose_coil_explains_is_called_a_slip():
    """412 N on 12 N/mm is 34.3 mm; 500 mm would need 0.82 N/mm, or a coil loose by 466 mm."""
    words = said(verdict("60/60", "42 kg", "12 N/mm", "500 mm")).verdict
    assert "500 mm under 42 kg cannot be: check its unit" in words
    assert "hangs loose" not in words
    assert "would explain" not in words


def test_a_reading_that_agrees_says_how_far_it_can_be_off():
    """A tape at a wheel is good to 2 mm, one standard deviation: 4 mm either way."""
    assert "good to 4 mm either way; lever and spring give" in said(verdict(*RACER[:3], "5 mm")).verdict
    assert "good to 1 mm either way" in said(verdict(*RACER[:3], "5 ± 0.5 mm")).verdict


def test_a_spring_that_the_load_alone_squashes_far_is_called_hard_to_find():
    """52.4 mm of wheel, the aim, at a ratio of 1.6 is 84 mm of spring; at 1.0 it is 52 mm."""
    soft = next(change for change in said(verdict(*RACER)).changes if "fit a spring" in change.do)
    assert "hard to find: the load alone squashes it by 84 mm" in soft.do
    mild = next(c for c in said(verdict("60/60", "62 kg", "80 N/mm", "7.6 mm")).changes if "fit a" in c.do)
    assert "hard to find" not in mild.do


def test_a_lever_typed_upside_down_is_noticed():
    """45/90 gives 4.7 mm, 90/45 gives 16 times that: 75 mm, which is what was seen."""
    found = verdict("45/90", "42 kg", "22 N/mm", "75 mm")
    assert (found.fit, found.blame) == ("reversed", "ratio")
    assert "0.50" in said(found).verdict
    assert change(found, "swap").after == pytest.approx(4.68e-3, rel=0.002)


def test_preload_that_looks_like_arms_the_other_way_round_asks_for_two_travels():
    found = verdict("90/45", "42 kg", "22 N/mm", "4.7 mm")
    assert (found.fit, found.swapped_fits) == ("less", True)
    assert any("eyes close" in sentence for sentence in said(found).unsaid)


def test_unknown_rate_says_what_cannot_be_told():
    found = verdict("60/60", "62 kg", None, "8 mm")
    assert (found.feel, found.fit, found.blame) == ("too stiff", "untold", "unknown")
    assert found.working_rate == pytest.approx(76.0e3, rel=0.001)  # 608 N / 8 mm
    assert "cannot be told without the rate" in said(found).verdict


def test_unknown_rate_still_blames_a_lever_that_speeds_the_spring_up():
    """Ratio 2: swapped, the wheel of a straight spring moves 16 times as far, 77 mm."""
    found = verdict("45/90", "42 kg", None, "4.8 mm")
    assert found.blame == "ratio"
    assert change(found, "swap").after == pytest.approx(16 * 4.8e-3)
    assert change(found, "swap").rate is None


def test_a_soft_lever_blames_the_ratio_where_equal_arms_would_do():
    """90/30 is 1/3: 412 N / (22 / 9) = 168.5 mm; equal arms 18.7 mm."""
    found = verdict("90/30", "42 kg", "22 N/mm", "168 mm")
    assert (found.feel, found.blame) == ("too soft", "ratio")
    assert change(found, "equal").after == pytest.approx(18.7e-3, rel=0.002)


def test_a_soft_spring_is_blamed_where_equal_arms_are_too_soft_still():
    assert verdict("90/80", "62 kg", "4 N/mm").blame == "spring"


def test_another_hole_for_the_spring_brings_the_aim():
    """42 kg, 22 N/mm: ratio for 52.44 mm is sqrt(411.9 / (22 * 52.44)) = 0.5975; on a link arm of 45: 26.9 mm."""
    found = change(verdict("45/90", "42 kg", "22 N/mm"), "arm")
    assert found.spring_arm == pytest.approx(0.027)
    assert found.feel == "usual"


def test_usual_movement_needs_nothing():
    found = verdict("90/45", "42 kg", "22 N/mm", "75 mm")
    assert (found.feel, found.fit, found.blame) == ("usual", "agrees", "nothing")


def test_arms_alone_say_only_the_ratio():
    found = verdict("45/90", "42 kg")
    assert (found.feel, found.blame, found.expected, found.changes) == ("untold", "unknown", None, ())
    assert found.ratio == pytest.approx(2.0)


def test_the_error_of_the_expected_movement_doubles_that_of_the_arms():
    """Arms 50 +/- 1 % each enter the ratio once and the movement twice: sqrt(2) * 2 % = 2.83 %."""
    typed = {"link_arm": "50 ± 1 %", "spring_arm": "50 ± 1 %", "load": "50 ± 0 kg", "rate": "20 ± 0 N/mm"}
    found = quick_verdict(read_quick(typed))
    assert found.expected is not None
    assert found.expected_error is not None
    assert found.expected_error / found.expected == pytest.approx(0.0283, rel=0.01)
    assert found.ratio_error == pytest.approx(0.01414, rel=0.01)


def test_same_numbers_in_inches_and_pounds_give_the_same_verdict():
    metric = verdict("60.325/60.325", "62.142 kg", "17.5127 N/mm", "12.7 mm")
    typed = {
        "link_arm": "2 3/8 in",
        "spring_arm": '2-3/8"',
        "load": "137 lb",
        "rate": "100 lbf/in",
        "moves": "1/2 in",
    }
    assert quick_verdict(read_quick(typed)).expected == pytest.approx(metric.expected, rel=1e-4)


def test_sentences_speak_inches_when_asked():
    words = said(verdict("60/60", "62 kg", "80 N/mm", "7.6 mm"), "inch")
    assert "1 in to 4 3/8 in is usual" in words.verdict
    assert " mm" not in words.verdict.replace("mm over", "").replace("mm under", "")


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("link_arm", {"link_arm": ""}),
        ("link_arm", {"link_arm": "0"}),
        ("spring_arm", {"spring_arm": "-60 mm"}),
        ("spring_arm", {"spring_arm": "60 kg"}),
        ("load", {"load": "62 N"}),
        ("load", {"load": None}),
        ("rate", {"rate": "0 N/mm"}),
        ("rate", {"rate": "soft"}),
        ("moves", {"moves": "-5 mm"}),
        ("moves", {"moves": "1,5"}),
    ],
)
def test_a_number_that_cannot_be_is_refused_by_name(key, typed):
    good = {"link_arm": "60", "spring_arm": "60", "load": "62", "rate": "20", "moves": "20"}
    with pytest.raises(QuickError) as caught:
        read_quick({**good, **typed})
    assert caught.value.key == key
    assert caught.value.found
    assert caught.value.allowed
    assert caught.value.do


@pytest.mark.parametrize("rate", [None, "5", "22", "400"])
@pytest.mark.parametrize("moves", [None, "0", "0.5", "8", "60", "900"])
@pytest.mark.parametrize("arms", ["45/90", "60/60", "90/45", "5/900"])
def test_odd_numbers_get_sentences_and_no_fault(arms, rate, moves):
    words = said(verdict(arms, "62 kg", rate, moves))
    assert words.verdict.endswith(".")
    assert words.ratio
    assert all(change.do and change.before and change.after for change in words.changes)
    assert "nan" not in words.verdict
