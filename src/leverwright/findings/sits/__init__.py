"""Does it sit right?"""

from leverwright.findings.sits import frequency, height, preload, roll

__all__ = ["frequency", "height", "preload", "roll"]
