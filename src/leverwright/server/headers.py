"""Headers that every answer carries, refusals and failures too."""

from __future__ import annotations

__all__ = ["POLICY", "SECURE"]

# Only our own script, style, picture and connection; nothing inline; nobody frames us.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
    "frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
)

SECURE: tuple[tuple[bytes, bytes], ...] = (
    (b"content-security-policy", POLICY.encode("ascii")),
    (b"x-content-type-options", b"nosniff"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"referrer-policy", b"no-referrer"),
    (b"cache-control", b"no-store"),
)
