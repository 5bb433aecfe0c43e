"""Does it sit right?"""

from leverwright.findings.sits import frequency, height, roll

__all__ = ["frequency", "height", "roll"]
