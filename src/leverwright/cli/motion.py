"""A motion of a vehicle asked for on the command line, and its cycle."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from leverwright.cli.options import quantity_of
from leverwright.cli.refusal import Refused
from leverwright.cli.vehicle import project_of
from leverwright.project import Project
from leverwright.quantity import Kind, quoted, say
from leverwright.study import Study
from leverwright.wire.cycle import CycleDocument
from leverwright.wire.cycling import cycle_document

__all__ = ["Motion", "cycle_of"]

# Poses times points; more than this takes over five seconds and 500 MB.
_MOST_PLACES = 100_000


@dataclass(frozen=True, slots=True)
class Motion:
    """What is asked of a cycle: mode, (lowest, highest) travel [m] where stated, number of poses."""

    mode: str
    asked: tuple[float | None, float | None]
    poses: int


def cycle_of(file: str, motion: Motion, held: Sequence[str]) -> CycleDocument:
    """Every assembly of a vehicle, cycled."""
    project = project_of(file)
    modes = ("heave", "roll", *project.wheels)
    if motion.mode not in modes:
        raise Refused.no_name(
            motion.mode, modes, "--mode", what="neither heave, roll nor a wheel of this vehicle"
        )
    if motion.poses * len(project.points) > _MOST_PLACES:
        most = max(2, _MOST_PLACES // len(project.points))
        raise Refused(
            f"{motion.poses} poses of {len(project.points)} points",
            f"at most {most} poses",
            "ask for fewer",
            key="--poses",
        )
    study = Study(project, _holding(project, held))
    return cycle_document(study, study.cycle(motion.mode, motion.asked, motion.poses))


def _holding(project: Project, typed: Sequence[str]) -> Mapping[str, float]:
    """Where each named held thing is held, m or rad."""
    holding: dict[str, float] = {}
    for words in typed:
        name, sign, amount = words.partition("=")
        if not sign:
            raise Refused(f"{quoted(words)} has no =", "NAME=VALUE", "write it as steer=10", key="--hold")
        if name not in project.held:
            raise Refused.no_name(name, project.held, "--hold")
        if name in holding:
            raise Refused(f"{quoted(name)} is held twice", "each name once", "leave one away", key="--hold")
        held = project.held[name]
        kind: Kind = "angle" if held.bodies else "length"
        value = quantity_of(amount, kind, "--hold").value
        if not held.range[0] <= value <= held.range[1]:
            allowed = (
                f"{say(held.range[0], kind)} to {say(held.range[1], kind)}, the range that the file states"
            )
            raise Refused(f"{say(value, kind)} for {name}", allowed, "hold it inside its range", key="--hold")
        holding[name] = value
    return holding
