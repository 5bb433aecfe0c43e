"""Motions that nothing holds and motions that rigid parts cannot make, with their sentences."""

from __future__ import annotations

from leverwright.linkage import Layout
from leverwright.quantity import in_words
from leverwright.ride import Cycle
from leverwright.ride.loose import LooseMotion, loose_motions
from leverwright.wire.cycle import Tight
from leverwright.wire.strict import number
from leverwright.wire.sweep import ShownPlay
from leverwright.wire.table import layout_of

__all__ = ["bind_of", "play_of"]

# A step of a motion that the page draws: the point that moves most goes this far.
_STEP_MM = 20.0
_GOES = {
    "spin": "it can turn about the line of its own joints, which does no harm",
    "sideways": "a wheel can drift sideways",
    "along": "a wheel can drift forward and back",
    "up": "a wheel can move where no spring follows it",
    "steers": "a wheel can steer by itself",
    "swings": "it can swing while the wheels stay where they are",
}


def play_of(cycle: Cycle) -> list[ShownPlay]:
    """Each motion that moves no wheel up or down and that nothing holds."""
    return [_play(motion) for motion in loose_motions(cycle.sprung.assembly)]


def _play(motion: LooseMotion) -> ShownPlay:
    steps = {name: [number(part * _STEP_MM) for part in step] for name, step in motion.step.items()}
    what = _and(motion.bodies) or _and(tuple(motion.step)) or "a part"
    return ShownPlay(list(motion.bodies), f"Nothing holds {what}: {_GOES[motion.kind]}.", steps)


def bind_of(cycle: Cycle) -> list[Tight]:
    """Why the asked motion cannot be made, or is made only by all wheels together."""
    layout = layout_of(cycle)
    wheels = layout.wheel_names
    if not wheels:
        return []
    freedom = cycle.sprung.assembly.freedom
    bodies = _wheel_bodies(layout)
    if cycle.posed is None:
        return [Tight(bodies, _why_not(cycle))]
    if cycle.travels is not None and cycle.travels.driving.forced:
        count = "one freedom" if freedom.wheel_rank == 1 else f"{freedom.wheel_rank} freedoms"
        sentence = (
            f"The wheels {_and(wheels)} have {count} between them: rigid parts force them to move together. "
            "Their mean is moved here, and each follows as the parts make it."
        )
        return [Tight(bodies, sentence)]
    return []


def _why_not(cycle: Cycle) -> str:
    wheels = _and(layout_of(cycle).wheel_names)
    freedom = cycle.sprung.assembly.freedom
    if cycle.mode not in ("heave", "roll") and cycle.mode not in layout_of(cycle).wheel_names:
        return f"{wheels} stands still while {cycle.mode} moves: they are not joined."
    if _wheel_bodies(layout_of(cycle)) == ["chassis"]:
        return f"{wheels} sits on the chassis itself: no spring carries it, and it moves with the chassis."
    if freedom.singular or freedom.shaky:
        return f"{wheels} cannot be moved from here: the set-up pose is a dead centre, where the links may go two ways."
    if freedom.wheel_rank == 0:
        return f"{wheels} cannot move: the parts hold it fast."
    if cycle.travels is None:
        return f"{wheels} cannot move so: the parts allow another motion, not this one."
    return f"{wheels} cannot move: no position lies within the lengths of its shocks and straps."


def _wheel_bodies(layout: Layout) -> list[str]:
    mechanism = layout.mechanism
    return list(dict.fromkeys(mechanism.body_names[mechanism.wheels[wheel].body] for wheel in layout.wheels))


def _and(names: tuple[str, ...]) -> str:
    return in_words(names) if names else ""
