"""How large and how deep a project file may be. Checked before parsing, so that nothing takes long.

Reasons: a TOML parser takes seconds and gigabytes for a few kilobytes of nested brackets, dotted keys or
digits. A vehicle needs a hundredth of each limit.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["LIMITS", "Limits"]


@dataclass(frozen=True, slots=True)
class Limits:
    """Largest size of each thing in a file."""

    file_bytes: int = 1_000_000
    lines: int = 20_000
    line_characters: int = 10_000
    levels: int = 8  # of brackets inside one another
    dots: int = 12  # in one key
    pieces: int = 300_000  # words, numbers, brackets, commas, line ends
    key_parts: int = 100_000  # of all keys together
    digits: int = 40  # of one number, with its point and exponent
    points: int = 2_000  # twins counted
    things: int = 2_000  # bodies, bars and so on, of each kind, twins counted
    bodies_at_point: int = 20
    points_at_place: int = 20
    # Of what is solved, twins counted: answers come within seconds.
    wheels: int = 16
    springs: int = 48
    straps: int = 48
    bars: int = 240
    held: int = 24
    freedoms: int = (
        60  # of moving bodies and free points before bars hold them; four wishbone corners have 36
    )
    # Of what is measured: networks are solved, and pictures taken apart, within seconds.
    tapes: int = 300
    taped_points: int = 80  # that a tape or a picture names, twins not counted; 240 unknowns, 2 s of solving
    tape_points: int = 50  # of one tape
    readings: int = 50  # of one tape or of one wheel on the scale
    masses: int = 50
    load_sets: int = 20
    weighings: int = 100
    benches: int = 50
    marks: int = 100  # of one shock on the bench, of two travels, or of a tyre
    pile: int = 50
    photos: int = 10
    picks: int = 200  # of one photograph
    travels: int = 20
    text_characters: int = 200  # of a quantity or a title
    name_characters: int = 100


LIMITS = Limits()
