"""Sentences in millimetres said again in inches, the numbers worked out by hand."""

import time

import pytest

from leverwright.quantity import in_inches, say_ratio


@pytest.mark.parametrize(
    ("metric", "inch"),
    [
        ("It stops at +43 mm.", "It stops at +1 11/16 in."),
        ("It stops at -30 mm: shock open", "It stops at -1 3/16 in: shock open"),
        ("sag between 24 and 29 mm here", "sag between 15/16 and 1 5/32 in here"),
        ("24 of 62 mm", "15/16 of 2 7/16 in"),
        ("from -5 to 12.7 mm", "from -3/16 to 1/2 in"),
        ("17.5 N/mm, 400 N, 62 kg", "99.9 lbf/in, 90 lbf, 137 lb"),
        ("between 16.1 and 18.9 N/mm", "between 91.9 and 108 lbf/in"),
        ("12 N·m/deg and 40 N·m at 1 m/s", "8.85 lbf·ft/deg and 29.5 lbf·ft at 2.24 mph"),
        ("0.5 mm of play", "0.02 in of play"),
        ("0.8 mm of play", "1/32 in of play"),
        ("25.4 mm", "1 in"),
        ("2.91 Hz, 39 %, 33.4 deg", "2.91 Hz, 39 %, 33.4 deg"),
        ("link-12 mm is a name", "link-12 mm is a name"),
        ("'arm 43 mm'", "'arm 43 mm'"),
        ("M8 bolts, 10 mm-wide", "M8 bolts, 10 mm-wide"),
        ("5 mmm, 5 Nm, 5 N·mm", "5 mmm, 5 Nm, 5 N·mm"),
        ("nothing to say", "nothing to say"),
        ("", ""),
    ],
)
def test_a_sentence_is_said_again(metric, inch):
    assert in_inches(metric) == inch


@pytest.mark.parametrize(
    ("ratio", "error"),
    [(0.64, None), (1.6, None), (0.08, None), (-0.4, None), (0.64, 0.01), (-0.4, 0.01), (0, None)],
)
def test_a_ratio_in_a_sentence_reads_as_it_would_have_been_said(ratio, error):
    assert in_inches(say_ratio(ratio, error=error)) == say_ratio(ratio, system="inch", error=error)


@pytest.mark.parametrize(
    "text", ["1 to " * 20_000, "1." * 50_000, "9" * 100_000, "1 mm" * 25_000, "1 and 2" * 10_000]
)
def test_a_long_text_takes_no_long_time(text):
    begun = time.perf_counter()
    in_inches(text)
    assert time.perf_counter() - begun < 2  # linear: some 0.1 s
