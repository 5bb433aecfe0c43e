"""Can it be made?"""

import pytest

from leverwright.findings import print_scaled
from tests.findings.vehicles import the_one


def test_a_bar_of_200_that_reads_194_corrects_the_reprint() -> None:
    finding = print_scaled(0.200, 0.194)
    assert finding is not None
    assert finding.severity == "stop"
    # 200/194 = 1.0309
    assert "97.0 %" in finding.sentence
    assert "103.1 %" in finding.sentence


def test_three_tenths_on_200_are_allowed() -> None:
    assert print_scaled(0.200, 0.1997) is None
    assert print_scaled(0.200, 0.2003) is None


def test_a_reading_of_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="above 0"):
        print_scaled(0.200, 0.0)


def test_a_link_beyond_its_threads_is_told_by_how_much() -> None:
    finding = the_one("adjuster-limits")
    assert finding.severity == "stop"
    # Set to 260 with 240 between its points, threads give 15: 5 mm too much.
    assert finding.number == pytest.approx(0.005)
