"""The program asks the linear algebra beneath NumPy for one thread before NumPy is there."""

import os
import subprocess
import sys

LOOK = """
import sys, leverwright.__main__, os
print("numpy" in sys.modules, *(os.environ.get(n) for n in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS")))
"""


def said(**more):
    rest = {name: value for name, value in os.environ.items() if not name.endswith("_NUM_THREADS")}
    done = subprocess.run(
        [sys.executable, "-c", LOOK], env=rest | more, capture_output=True, text=True, check=True
    )
    return done.stdout.split()


def test_one_thread_before_arrays_are_loaded():
    assert said() == ["False", "1", "1"]


def test_what_a_person_asked_for_stays():
    assert said(OPENBLAS_NUM_THREADS="2") == ["False", "2", "1"]
