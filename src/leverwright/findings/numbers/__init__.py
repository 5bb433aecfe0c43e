"""Can I trust my numbers?"""

from leverwright.findings.numbers import (
    likely,
    pose,
    pressure,
    ratio_read,
    scale,
    sides,
    springs,
    table,
    tapes,
    undetermined,
    unstated,
)

__all__ = [
    "likely",
    "pose",
    "pressure",
    "ratio_read",
    "scale",
    "sides",
    "springs",
    "table",
    "tapes",
    "undetermined",
    "unstated",
]
