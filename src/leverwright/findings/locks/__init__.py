"""Does it lock or bind?"""

from leverwright.findings.locks import alignment, dead_centre, reach

__all__ = ["alignment", "dead_centre", "reach"]
