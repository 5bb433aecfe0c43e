"""Can I trust my numbers?"""

from leverwright.findings.numbers import likely, pose, sides, table, unstated

__all__ = ["likely", "pose", "sides", "table", "unstated"]
