"""PUBLISHED row G14: sheet sizes of ISO 216 (R)."""

from __future__ import annotations

import math

import pytest

from leverwright.make.pen import PAPER_SIZES


def test_a4_is_210_by_297():
    """The row lists A4 to A1; A4 is the one sheet that the product prints on."""
    assert PAPER_SIZES["A4"] == pytest.approx((0.210, 0.297), abs=1e-12)


def test_a4_keeps_the_series_own_ratio():
    """ISO 216: sides as 1 to √2, rounded to whole millimetres."""
    short, long = PAPER_SIZES["A4"]
    assert long == pytest.approx(short * math.sqrt(2), abs=1e-3)


def test_letter_is_eight_and_a_half_by_eleven_inches():
    """ANSI/ASME Y14.1 size A (M)."""
    assert PAPER_SIZES["Letter"] == pytest.approx((0.2159, 0.2794), abs=1e-12)
