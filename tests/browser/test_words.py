"""The cases that the page's own wording is tested against are what the program says today."""

import json
import subprocess
import sys
from pathlib import Path

SAID = Path(__file__).parents[2] / "web/tests/said.json"


def test_cases_of_the_moving_numbers_are_fresh():
    command = [sys.executable, "-m", "leverwright.quantity.cases"]
    printed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert json.loads(SAID.read_text(encoding="utf-8")) == json.loads(printed), (
        "run: python -m leverwright.quantity.cases > web/tests/said.json"
    )
