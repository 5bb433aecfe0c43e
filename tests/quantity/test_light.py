"""Importing the package costs next to nothing: `check` has a start-up budget."""

import subprocess
import sys


def test_reading_a_quantity_loads_no_heavy_library():
    program = (
        "import sys; from leverwright.quantity import read_quantity; read_quantity('12 1/2 in', 'length');"
        "print([name for name in ('numpy', 'tomlkit', 'msgspec', 'rich', 'starlette') if name in sys.modules])"
    )
    printed = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, text=True)
    assert printed.stdout == "[]\n"
