"""Does it sit right?"""

from leverwright.findings.sits import frequency, height, load_sets, preload, roll

__all__ = ["frequency", "height", "load_sets", "preload", "roll"]
