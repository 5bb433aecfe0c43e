"""Lengths as the sheets print them."""

from __future__ import annotations

from leverwright.quantity import fixed, to_surface

__all__ = ["in_millimetres", "millimetres"]


def millimetres(length: float, decimals: int = 1) -> str:
    """A length as a bare number of mm, under a head that names the unit."""
    return fixed(to_surface(length, "length"), decimals)


def in_millimetres(length: float, decimals: int = 1) -> str:
    """The same with its unit."""
    return f"{millimetres(length, decimals)} mm"
