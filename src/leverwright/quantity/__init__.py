"""Numbers with units, fractions and uncertainty: read once into SI, and said in sentences."""

from leverwright.quantity.about import (
    say_about,
    say_about_ratio,
    say_about_travel,
    say_about_twist_ratio,
)
from leverwright.quantity.faults import QuantityError, quoted
from leverwright.quantity.inches import say_inches, say_mark
from leverwright.quantity.listing import in_words
from leverwright.quantity.read import LONGEST_TEXT, Quantity, read_quantity
from leverwright.quantity.retell import in_inches
from leverwright.quantity.rounding import fixed
from leverwright.quantity.say import say, say_between, say_ratio, say_travel, say_twist_ratio, shown_unit
from leverwright.quantity.units import (
    KINDS,
    SURFACE_UNIT,
    UNITS,
    Kind,
    System,
    Unit,
    from_surface,
    to_surface,
)

__all__ = [
    "KINDS",
    "LONGEST_TEXT",
    "SURFACE_UNIT",
    "UNITS",
    "Kind",
    "Quantity",
    "QuantityError",
    "System",
    "Unit",
    "fixed",
    "from_surface",
    "in_inches",
    "in_words",
    "quoted",
    "read_quantity",
    "say",
    "say_about",
    "say_about_ratio",
    "say_about_travel",
    "say_about_twist_ratio",
    "say_between",
    "say_inches",
    "say_mark",
    "say_ratio",
    "say_travel",
    "say_twist_ratio",
    "shown_unit",
    "to_surface",
]
