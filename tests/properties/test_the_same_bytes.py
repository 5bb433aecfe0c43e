"""Two runs print the same bytes under any hash seed."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.reference.vehicle import VEHICLES


def printed(seed: str, *words: str) -> bytes:
    done = subprocess.run(
        [sys.executable, "-m", "leverwright", *words],
        capture_output=True,
        env={**os.environ, "PYTHONHASHSEED": seed},
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    return done.stdout


@pytest.mark.parametrize("verb", [("check",), ("cycle", "--mode", "roll", "--poses", "5")])
def test_two_runs_print_the_same_bytes(verb):
    file = str(VEHICLES / "beam-axle.toml")
    one, other = (printed(seed, verb[0], file, *verb[1:], "--json") for seed in ("0", "4242"))
    assert len(one) > 1000
    assert one == other
