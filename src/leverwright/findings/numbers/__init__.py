"""Can I trust my numbers?"""

from leverwright.findings.numbers import likely, pose, sides, springs, table, unstated

__all__ = ["likely", "pose", "sides", "springs", "table", "unstated"]
