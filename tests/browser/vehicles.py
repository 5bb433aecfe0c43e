"""Vehicles of our own invention for the page to show."""

from pathlib import Path

from tests.cart import CART

__all__ = ["CART", "EXAMPLES", "RACER"]

EXAMPLES = Path(__file__).parents[2] / "examples"

# Story S2: arms of 45 and 90, four times too stiff.
RACER = (EXAMPLES / "gravity-racer.toml").read_text(encoding="utf-8")
