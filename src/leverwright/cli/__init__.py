"""The command line: verbs that read a vehicle, say what is so, change it, draw it.

Exit status: 0 fine, 1 a finding says stop (or an assembly cannot move), 2 what was typed or named could not be
used, 3 a fault of the program itself, 130 stopped from the keyboard, 141 nobody read on.
"""

from leverwright.cli.refusal import Refused
from leverwright.cli.run import main

__all__ = ["Refused", "main"]
