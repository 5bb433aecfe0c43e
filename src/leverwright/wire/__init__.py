"""Every JSON document of the program, declared once."""

from __future__ import annotations

__all__: list[str] = []
