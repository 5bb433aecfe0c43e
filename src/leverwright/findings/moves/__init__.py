"""Does it move?"""

from leverwright.findings.moves import freedom, ratio, stiffness, stroke

__all__ = ["freedom", "ratio", "stiffness", "stroke"]
