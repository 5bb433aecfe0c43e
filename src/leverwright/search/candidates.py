"""One-change candidates for each kind of trouble, cheapest in workshop time first."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from leverwright.geometry import Array, unit
from leverwright.linkage import Lever, driven_ends, levers
from leverwright.quantity import say, to_surface
from leverwright.ride import STANDARD_GRAVITY, SprungAssembly
from leverwright.search.arms import arms_set, hole_turned, spring_across
from leverwright.search.cargo import cargo_moved
from leverwright.search.edits import move_point, set_value
from leverwright.search.pile_candidates import from_pile, trims
from leverwright.search.remedy import Candidate, Effort
from leverwright.springs import ShockLaw, law_push
from leverwright.study import Study

__all__ = ["Candidate", "candidates"]

# Workshop times for one person with a drill press and a welder, both sides (common practice, stated so that they
# can be argued with): a spanner, one hole drilled in each plate, a new link, new plates, a bracket cut off and
# welded again.
SPANNER = Effort(5.0, "a spanner")
ONE_HOLE = Effort(20.0, "one new hole a side")
NEW_LINK = Effort(40.0, "a new link a side")
NEW_LEVER = Effort(60.0, "new lever plates and a moved spring bracket")
MOVED_BRACKET = Effort(90.0, "a bracket cut off and welded again")

_LEAST_ARM, _MOST_ARM = 0.030, 0.160  # m; shorter arms magnify hole errors, longer ones do not fit (CP)
_MOST_PRELOAD = 0.25  # share of the standing spring force that preload may make up (CP)


def candidates(study: Study, finding_id: str, wheels: tuple[str, ...]) -> Iterator[Candidate]:
    """Candidates for a finding about these wheels, in order of effort."""
    if finding_id == "coupling-share":
        yield from cargo_moved(study)
    makers = {
        "sides-differ": (trims, from_pile),
        "shock-unfit": (from_pile,),
        "sag-by-preload": (from_pile, _other_hole, _arms),
        "too-stiff": (_preload, from_pile, _other_hole, _arms),
        "arms-reversed": (_arms,),
        "sag-outside": (_preload, from_pile, _other_hole, _arms),
        "on-preload": (_preload, _other_hole, _arms),
        "frequency-outside": (from_pile, _other_hole, _arms),
        "wrong-way": (_across,),
        "dead-centre-near": (_links, _turned_hole, _pivot, _other_hole),
        "angle-poor": (_links, _turned_hole, _pivot),
    }.get(finding_id, ())
    sprung = next((a for a in study.assemblies if set(wheels) & set(a.assembly.layout.wheel_names)), None)
    if sprung is None:
        return
    found = [candidate for make in makers for candidate in make(study, sprung)]
    yield from sorted(found, key=lambda candidate: candidate.effort.minutes)


def _levers(study: Study, sprung: SprungAssembly) -> list[Lever]:
    """The assembly's levers, a mirrored pair once: its right lever moves with its left."""
    out: list[Lever] = []
    for lever in levers(sprung.assembly.layout):
        twin = study.project.points[lever.spring_hole].twin_of
        if not any(twin is not None and twin == known.spring_hole for known in out):
            out.append(lever)
    return out


def _target_ratio(study: Study, sprung: SprungAssembly, line: int) -> float | None:
    """Heave ratio at which the spring would stand in the middle of the wanted sag, were the ratio constant."""
    law = sprung.laws[line]
    if not isinstance(law, ShockLaw) or np.isnan(sprung.sprung).any():
        return None
    low, high = study.project.goals.sag or (0.30, 0.40)
    stroke = law.length_open - law.length_closed
    push = float(law_push(law, np.array([law.length_open - 0.5 * (low + high) * stroke]))[0])
    load = float(sprung.sprung.mean()) * STANDARD_GRAVITY
    return load / push if push > 0.0 else None


def _factor(study: Study, sprung: SprungAssembly, lever: Lever) -> float | None:
    """By how much the ratio should grow to reach the target."""
    index = sprung.assembly.layout.line_names.index(lever.spring)
    figures = next(f for a, f in zip(study.assemblies, study.figures, strict=True) if a is sprung)
    target, now = _target_ratio(study, sprung, index), float(figures.heave[index])
    return None if target is None or not np.isfinite(now) or now <= 0.0 else target / now


def _preload(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    low, high = study.project.goals.sag or (0.30, 0.40)
    for index, name in enumerate(sprung.assembly.layout.line_names):
        law, spring = sprung.laws[index], study.project.springs.get(name)
        if not isinstance(law, ShockLaw) or spring is None or spring.shock is None or len(law.rows):
            continue
        figures = next(f for a, f in zip(study.assemblies, study.figures, strict=True) if a is sprung)
        ratio = float(figures.heave[index])
        if not np.isfinite(ratio) or ratio <= 0.0 or np.isnan(sprung.sprung).any():
            continue
        push = float(sprung.sprung.mean()) * STANDARD_GRAVITY / ratio - law.gas
        stroke = law.length_open - law.length_closed
        preload = push / law.rate - 0.5 * (low + high) * stroke
        if 0.0 <= preload * law.rate <= _MOST_PRELOAD * push and abs(preload - law.preload) > 5e-4:
            more = preload - law.preload
            value = round(to_surface(preload, "length"), 1)
            do = (
                f"Turn the collar of {spring.shock} {say(abs(more), 'length', system=study.units)} "
                f"{'tighter' if more > 0.0 else 'looser'}, to "
                f"{say(preload, 'length', system=study.units)} of preload"
            )
            yield Candidate(do, SPANNER, (set_value(["shocks", spring.shock, "preload"], value),))
        return


def _arms(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    for lever in _levers(study, sprung):
        link, spring = lever.link_arm, lever.spring_arm
        if abs(link / spring - 1.0) < 0.05:
            continue

        def said(arm: float) -> str:
            return say(arm, "length", system=study.units)

        equal = round(float(np.sqrt(link * spring)), 3)
        yield Candidate(
            f"Make both arms of {lever.body} equal: link hole and spring hole {said(equal)} from the pivot "
            f"(now {said(link)} and {said(spring)})",
            NEW_LEVER,
            arms_set(study.project, lever, equal, equal),
        )
        yield Candidate(
            f"Swap the arms of {lever.body}: link hole {said(spring)}, spring hole {said(link)} from the pivot",
            NEW_LEVER,
            arms_set(study.project, lever, spring, link),
        )


def _other_hole(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    for lever in _levers(study, sprung):
        factor = _factor(study, sprung, lever)
        if factor is None or abs(factor - 1.0) < 0.02:
            continue
        for name, arms, arm in (
            ("spring", (lever.link_arm, lever.spring_arm * factor), lever.spring_arm * factor),
            ("link", (lever.link_arm / factor, lever.spring_arm), lever.link_arm / factor),
        ):
            if _LEAST_ARM <= arm <= _MOST_ARM:
                now = lever.spring_arm if name == "spring" else lever.link_arm
                do = (
                    f"Drill a new {name} hole in {lever.body}, {say(arm, 'length', system=study.units)} "
                    "from the pivot "
                    f"(now {say(now, 'length', system=study.units)})"
                )
                effort = MOVED_BRACKET if name == "spring" else ONE_HOLE
                yield Candidate(do, effort, arms_set(study.project, lever, *arms))


_LINK_STEPS = (0.005, -0.005, 0.012, -0.012)  # m; finer is a spanner's work, coarser another layout


def _links(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    project = study.project
    for name in dict.fromkeys(lever.bar for lever in _levers(study, sprung)):
        bar = project.bars.get(name)
        if bar is None:
            continue
        owner = bar.twin_of or name
        places = [np.array(project.points[p].at) for p in bar.ends]
        measured = float(np.linalg.norm(places[0] - places[1]))
        now = measured if bar.length is None else bar.length.value
        for step in _LINK_STEPS:
            length = round(now + step, 4)
            low, high = bar.adjust or (0.0, 0.0)
            effort = SPANNER if low <= length - measured <= high and bar.adjust else NEW_LINK
            how = "longer" if step > 0.0 else "shorter"
            do = (
                f"Make {name} {say(abs(step), 'length', system=study.units)} {how} "
                f"({say(length, 'length', system=study.units)} between its holes)"
            )
            yield Candidate(
                do, effort, (set_value(["bars", owner, "length"], round(to_surface(length, "length"), 1)),)
            )


_TURNS = tuple(np.deg2rad((10.0, -10.0, 20.0, -20.0)))


def _turned_hole(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    for lever in _levers(study, sprung):
        layout = sprung.assembly.layout
        normal = layout.mechanism.normal
        axis = np.array(normal) if normal is not None else _hinge_dir(sprung, lever)
        for angle in _TURNS:
            do = (
                f"Drill a new link hole in {lever.body} at the same "
                f"{say(lever.link_arm, 'length', system=study.units)} from the "
                f"pivot, {np.rad2deg(abs(angle)):.0f} deg round from the old one"
            )
            yield Candidate(do, ONE_HOLE, hole_turned(study.project, lever, "link", float(angle), axis))


_PIVOT_STEPS = (0.010, -0.010, 0.020, -0.020)  # m along the link


def _pivot(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    """The pivot moved along the link, holes where they are: the lever's arm to the link turns, the link stays."""
    layout = sprung.assembly.layout
    names = layout.mechanism.point_names
    for lever in _levers(study, sprung):
        end = next(e for e in driven_ends(layout) if names[e.point] == lever.link_hole)
        if end.hinge_carrier != 0:
            continue  # a pivot on an arm that moves is another layout
        feet = [layout.feet[f][1] for f in layout.bars[end.bar].feet]
        places = layout.mechanism.points
        along = unit(places[feet[end.end]] - places[feet[1 - end.end]])
        for step in _PIVOT_STEPS:
            ops = tuple(move_point(study.project, names[p], places[p] + along * step) for p in end.hinge)
            way = "away from" if step > 0.0 else "towards"
            yield Candidate(
                f"Move the pivot of {lever.body} {say(abs(step), 'length', system=study.units)} {way} the other end of "
                f"{lever.bar}, its holes where they are",
                MOVED_BRACKET,
                ops,
            )


def _hinge_dir(sprung: SprungAssembly, lever: Lever) -> Array:
    places = sprung.assembly.layout.mechanism.points
    names = sprung.assembly.layout.mechanism.point_names
    end = next(e for e in driven_ends(sprung.assembly.layout) if names[e.point] == lever.link_hole)
    return unit(places[end.hinge[1]] - places[end.hinge[0]])


def _across(study: Study, sprung: SprungAssembly) -> Iterator[Candidate]:
    for lever in _levers(study, sprung):
        yield Candidate(
            f"Put the spring hole of {lever.body} on the other side of the pivot, at the same arm, and "
            "its bracket with it",
            MOVED_BRACKET,
            spring_across(study.project, lever),
        )
