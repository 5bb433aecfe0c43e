"""Can it be made?"""

from leverwright.findings.made import adjusters, print_scale

__all__ = ["adjusters", "print_scale"]
