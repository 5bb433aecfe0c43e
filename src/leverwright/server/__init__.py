"""The local page: one person, one machine, loopback only."""

from __future__ import annotations

from leverwright.server.run import ServeError, serve

__all__ = ["ServeError", "serve"]
