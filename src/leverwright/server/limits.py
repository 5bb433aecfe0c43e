"""What the server allows, each with its reason."""

from __future__ import annotations

__all__ = [
    "BODY_BYTES",
    "CLIENT_SECONDS",
    "CLOSE_SECONDS",
    "CONNECTIONS",
    "HEAD_BYTES",
    "MESSAGE_BYTES",
    "NESTING",
    "OPS",
    "PAGES",
    "PHOTO_BYTES",
    "PHOTO_SECONDS",
    "REST_SECONDS",
    "STALL_SECONDS",
    "SWEEP_SECONDS",
    "UNDO_BYTES",
    "UNDO_STEPS",
    "WAITING",
]

# Request line and headers. A browser sends 1 kB; other local servers' cookies join it.
HEAD_BYTES = 16_384
# A project file is at most 1 MB, its JSON form a little more: such a file is saved by a text editor.
BODY_BYTES = 1_000_000
# A photograph as a telephone takes it, and the seconds in which it is decoded or given up: an answer is promised in 5.
PHOTO_BYTES = 12_000_000
PHOTO_SECONDS = 4.2
# One socket message: a try is 100 bytes, a whole vehicle some 10 kB.
MESSAGE_BYTES = 256_000
# Edits in one message: a remedy has under ten; an undo must not stand for a thousand steps.
OPS = 200
# Lists and tables within one another inside an edit; the file allows 8 and the message adds 2.
NESTING = 10
# Open connections. Above it the one that keeps us waiting longest is dropped, never the new one.
# Below the usual limit of 1 024 descriptors, above what 200 half-open clients take.
CONNECTIONS = 400
# Pages open at once; the one silent for longest is closed for a new one.
PAGES = 12
# Messages of one page that wait; more is not a person.
WAITING = 32
# A client that owes us the rest of its request, on loopback, is dropped after this long.
CLIENT_SECONDS = 8.0
# A client that does not read its answer is dropped after this long.
STALL_SECONDS = 8.0
# A closed connection with unread answers is dropped after this long.
CLOSE_SECONDS = 2.0
# How often connections are looked over.
SWEEP_SECONDS = 0.5
# Steps of undo, and the text that they may hold together.
UNDO_STEPS = 200
UNDO_BYTES = 4_000_000
# A hand that moves sends a try a frame; one that has sent none for this long rests, and gets the whole answer.
REST_SECONDS = 0.15
