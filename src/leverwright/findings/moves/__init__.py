"""Does it move?"""

from leverwright.findings.moves import freedom, ratio, stiffness, stroke, tyre

__all__ = ["freedom", "ratio", "stiffness", "stroke", "tyre"]
