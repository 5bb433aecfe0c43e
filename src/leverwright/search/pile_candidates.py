"""Changes with what one owns: tighten the weaker spring of a pair, fit another shock of the pile."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from leverwright.quantity import say, to_surface
from leverwright.ride import SprungAssembly
from leverwright.search.edits import Ops, set_value
from leverwright.search.remedy import Candidate, Effort
from leverwright.study import Study

__all__ = ["from_pile", "trims"]

_SPANNER = Effort(5.0, "a spanner")
_ANOTHER = Effort(30.0, "another shock of the pile")
# What a shock says of itself and would hide what is known of the one that takes its place.
_OWN = ("rate", "table", "wire", "preload", "gas", "friction", "length_open", "length_closed", "coils_touch")


def trims(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    """Turn up the collar of the weaker of a pair until both push alike."""
    if len(study.project.shocks) < 2:
        return
    from leverwright.search.spring_pairs import spring_pairs

    for found in spring_pairs(study):
        trim = found.pair.trim
        if (
            trim is None
            or not set(found.wheels) & set(sprung.assembly.layout.wheel_names)
            or trim.has_room is False
        ):
            continue
        spring = study.project.springs[trim.tighten]
        weak = next(owned for owned in found.shocks if owned.name == trim.tighten)
        preload = weak.law.preload + trim.by
        do = (
            f"Turn the collar of {spring.name} {say(trim.by, 'length', system=study.units)} tighter, to "
            f"{say(preload, 'length', system=study.units)} of preload"
        )
        key = ["shocks", spring.shock or "", "preload"]
        yield Candidate(do, _SPANNER, (set_value(key, round(to_surface(preload, "length"), 1)),))


def from_pile(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    """Another shock of the pile in one place; a kind of shock that sits in two places would need two alike."""
    if not study.file.pile:
        return
    from leverwright.assemble.owned import owned_in_pile

    used = {shock.pile or shock.name for shock in study.file.shocks.values()}
    free = [
        name
        for name, pile in study.file.pile.items()
        if name not in used
        and not study.measured.springs[name].rejected
        and owned_in_pile(pile, study.measured.springs[name]) is not None
    ]
    for spring in sprung.assembly.layout.line_names:
        kind = study.file.springs[spring].shock if spring in study.file.springs else None
        users = [s.name for s in study.file.springs.values() if s.shock == kind]
        if kind is None or len(users) != 1 or kind in study.file.bench:
            continue
        for name in free:
            yield Candidate(f"Fit {name} of the pile for {spring}", _ANOTHER, _swapped(study, kind, name))


def _swapped(study: Study, kind: str, name: str) -> Ops:
    """The shock takes everything from that one of the pile; what it stated itself goes."""
    tables = study.file.written.get("shocks")
    own = tables.get(kind) if isinstance(tables, Mapping) else None
    stated = [key for key in _OWN if isinstance(own, Mapping) and key in own]
    gone = tuple({"op": "delete", "key": ["shocks", kind, key]} for key in stated)
    return (set_value(["shocks", kind, "pile"], name), *gone)
