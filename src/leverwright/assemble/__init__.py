"""From the file to the solver: the one place that knows both."""

from leverwright.assemble.blocks import Block
from leverwright.assemble.measured import Measured, measured_of
from leverwright.assemble.mechanism import mechanism_of
from leverwright.assemble.spread import spread_of
from leverwright.assemble.springs import laws_of, limits_of, shock_law
from leverwright.assemble.vehicle import sprung_assemblies, twin_names

__all__ = [
    "Block",
    "Measured",
    "laws_of",
    "limits_of",
    "measured_of",
    "mechanism_of",
    "shock_law",
    "spread_of",
    "sprung_assemblies",
    "twin_names",
]
