"""Errors that belong together: what was measured in one go errs together."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.geometry import Array

__all__ = ["Block"]


@dataclass(frozen=True, slots=True)
class Block:
    """Inputs K with their covariance (K, K), each in the SI unit of its input.

    inputs  ("point", NAME, "x" | "y" | "z") m; ("shock", NAME, "rate" | "preload" | "gas" | "friction");
            ("load", WHEEL) kg. An input of no block is independent and has its own ±.
    """

    inputs: tuple[tuple[str, ...], ...]
    covariance: Array
