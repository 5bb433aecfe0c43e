"""Is it safe to drive and to touch?"""

from leverwright.findings.drive import coupling, tipping

__all__ = ["coupling", "tipping"]
