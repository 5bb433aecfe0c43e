"""The one object that every surface reads: a project, cycled, stood on its wheels and answered.

The stages are computed on first use and kept. What is made from a study is a function of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from leverwright.assemble import Measured, measured_of, mechanism_of, sketched, sprung_assemblies, twin_names
from leverwright.assemble.errors import errors_of_all
from leverwright.assemble.footing import POSES, Footing, default_ends, ways_of
from leverwright.linkage import Mechanism, Stop
from leverwright.project import Project
from leverwright.quantity import System
from leverwright.ride import (
    NEAR,
    Adjuster,
    AxleAnswers,
    AxlePart,
    BackCheck,
    Cycle,
    Errors,
    Figures,
    Setting,
    SprungAssembly,
    Standing,
    Thread,
    Travels,
    WheelAnswers,
    adjusters_of,
    answer_axles,
    answer_wheels,
    back_check,
    cycle_assembly,
    figures_of,
    find_travels,
    find_twins,
    stand,
)

if TYPE_CHECKING:
    from leverwright.assemble.aboard import Aboard
    from leverwright.assemble.stance import Loading
    from leverwright.ride.chassis import ChassisStanding
    from leverwright.ride.next_measurement import NextReading

__all__ = ["POSES", "Study"]


class Study:
    """Everything that can be said of one vehicle.

    file   the project as it was read; `project` is the same with its measurements taken up
    hold   held values by name, m or rad; 0 where absent
    units  what sentences made from this study are worded in; no figure depends on it
    quick  for a hole being dragged: no ± and no adjusters, whose findings wait for the next whole study
    aboard what another load set than the usual one shares with the study that it was made from, see `under`
    """

    def __init__(
        self,
        file: Project,
        hold: Mapping[str, float] | None = None,
        units: System = "metric",
        *,
        quick: bool = False,
        aboard: Aboard | None = None,
    ) -> None:
        self.file = file
        self.aboard = aboard
        self.hold = dict(hold or {})
        self.units = units
        self.quick = quick

    @cached_property
    def measured(self) -> Measured:
        """What the file's tapes, benches and scales say."""
        return measured_of(self.file) if self.aboard is None else self.aboard.measured_under(self.file)

    @property
    def _known(self) -> Footing | None:
        """Ways that are known before anything is cycled: found while weighing, or another load set's."""
        if self.aboard is not None:
            return self.aboard.footing
        weights = self.measured.weights
        return None if weights is None or self.hold else weights.footing

    @property
    def project(self) -> Project:
        """The vehicle with its measurements taken up: what every answer is computed from."""
        return self.measured.project

    @cached_property
    def mechanism(self) -> Mechanism:
        """Points, bodies, bars as arrays and names."""
        return mechanism_of(self.project) if self._known is None else self._known.mechanism

    @cached_property
    def assemblies(self) -> tuple[SprungAssembly, ...]:
        """What moves together, with its springs, limits and loads."""
        known = None if self._known is None else self._known.assemblies
        return sprung_assemblies(self.project, self.hold, self.mechanism, known)

    @cached_property
    def twins(self) -> tuple[int | None, ...]:
        """For each assembly the earlier one that it mirrors exactly: its answers are that one's."""
        return find_twins(self.assemblies, twin_names(self.project))

    @cached_property
    def default_ends(self) -> tuple[Stop, Stop]:
        """Ends of travel (droop, bump) where no shock says: the goal's, else 50 mm each way, by nobody."""
        return default_ends(self.project.goals)

    @cached_property
    def travels(self) -> tuple[Travels | None, ...]:
        """The way of each assembly in heave and where its travel ends."""
        if self._known is not None:
            return self._known.travels
        return ways_of(self.assemblies, self.twins, twin_names(self.project), self.default_ends)

    @cached_property
    def heave(self) -> tuple[Cycle, ...]:
        """Each assembly over its whole travel, wheels alike."""
        if self._known is not None:
            return self._known.under(self.assemblies).heave
        pairs = zip(self.assemblies, self.travels, strict=True)
        return tuple(cycle_assembly(a, "heave", travels, POSES) for a, travels in pairs)

    @cached_property
    def standing(self) -> tuple[Standing, ...]:
        """Where each assembly stands under the usual load."""
        return tuple(stand(*row) for row in zip(self.assemblies, self.travels, self.heave, strict=True))

    @cached_property
    def figures(self) -> tuple[Figures, ...]:
        """Every figure of each assembly at its standing position."""
        rows = zip(self.assemblies, self.travels, self.heave, self.standing, strict=True)
        return tuple(figures_of(*row) for row in rows)

    @cached_property
    def errors(self) -> tuple[Errors | None, ...]:
        """One standard deviation of every figure; None where a place of the assembly states no error."""
        if self.quick:
            return (None,) * len(self.assemblies)
        rows = zip(self.assemblies, self.travels, self.heave, self.standing, self.figures, strict=True)
        return errors_of_all(self.measured, self.twins, tuple(rows))

    @cached_property
    def back_check(self) -> tuple[BackCheck, ...]:
        """Residuals of each assembly from other principles than the solver's."""
        return tuple(back_check(cycle) for cycle in self.heave)

    @cached_property
    def answers(self) -> Mapping[str, WheelAnswers]:
        """Every answer of the contract, by wheel in the order of the file."""
        rows = zip(self.assemblies, self.figures, self.errors, self.back_check, strict=True)
        found = answer_wheels(tuple(self.project.wheels), rows)
        return sketched.sketched_wheels(self.measured, self.assemblies, found)

    @cached_property
    def axles(self) -> tuple[AxleAnswers, ...]:
        """Roll rate of each pair of wheels, left first."""
        stages = zip(self.assemblies, self.travels, self.figures, self.errors, self.twins, strict=True)
        parts = [
            AxlePart(a, t, f, e, self.assemblies[k if twin is None else twin].assembly.layout)
            for k, (a, t, f, e, twin) in enumerate(stages)
        ]
        return sketched.sketched_axles(self.measured, answer_axles(self.mechanism, parts), self.answers)

    @cached_property
    def adjusters(self) -> tuple[Adjuster, ...]:
        """Each bar with threads, solved again at both ends; a side that mirrors another is left to that other."""
        if self.quick:
            return ()
        found: list[Adjuster] = []
        rows = zip(self.assemblies, self.travels, self.figures, self.twins, strict=True)
        for a, t, f, twin in rows:
            threads = [
                Thread(bar.name, bar.adjust, bar.pitch)
                for bar in self.project.bars.values()
                if twin is None and bar.adjust is not None and bar.name in a.assembly.layout.bar_names
            ]
            found += adjusters_of(a, Setting(0.0, t, f), threads, self.default_ends)
        return tuple(found)

    @property
    def load_set(self) -> str | None:
        """The one that this study stands under; None where the file has no scale and no masses."""
        return None if self.measured.weights is None else self.measured.weights.name

    @cached_property
    def chassis(self) -> ChassisStanding | None:
        """Heave, pitch, roll and what the ground carries; None where nothing says what is aboard."""
        return None if self.measured.weights is None else self.measured.weights.standing

    @cached_property
    def loading(self) -> Loading | None:
        """Of what is aboard: height by tilting, where it tips, what a coupling carries; None without a load set."""
        from leverwright.assemble.stance import loading_of

        if self.measured.weights is None:
            return None
        ground = Footing(self.mechanism, self.assemblies, self.travels, self.heave)
        return loading_of((self.file, self.project), self.measured.weights, ground, self.standing)

    @cached_property
    def sets(self) -> Mapping[str, Study]:
        """The same vehicle under each load set, by name; springs, ways and sweeps are shared."""
        if not self.file.loads:
            return {}
        from leverwright.assemble.aboard import Aboard

        ground = Footing(self.mechanism, self.assemblies, self.travels, self.heave)
        others = {
            name: Aboard(name, self.measured, ground) for name in self.file.loads if name != self.load_set
        }
        kept = (self.file, self.hold, self.units)
        return {
            n: Study(*kept, quick=self.quick, aboard=others[n]) if n in others else self
            for n in self.file.loads
        }

    def under(self, load_set: str) -> Study:
        """The study of that load set; KeyError where the file has none of that name."""
        return self.sets[load_set]

    @cached_property
    def next_measurement(self) -> tuple[NextReading, ...]:
        """Readings that would make the answers most certain, best first; points numbered as in the tapes' network."""
        from leverwright.assemble.next_measurement import next_measurements

        return next_measurements(self.measured, zip(self.assemblies, self.figures, self.errors, strict=True))

    def cycle(
        self, mode: str = "heave", asked: tuple[float | None, float | None] = (None, None), poses: int = POSES
    ) -> tuple[Cycle, ...]:
        """Every assembly in "heave", "roll" or with one wheel moving; `asked` (droop, bump) m ends it where stated."""
        if asked[0] is not None and asked[1] is not None and asked[0] > asked[1]:
            raise ValueError("the first travel asked for is above the last")
        if mode == "heave" and asked == (None, None) and poses == POSES:
            return self.heave
        found = [find_travels(a, mode, asked, self.default_ends, NEAR) for a in self.assemblies]
        return tuple(cycle_assembly(a, mode, t, poses) for a, t in zip(self.assemblies, found, strict=True))

    def with_change(self, key: Sequence[str], value: object) -> Study:
        """The study of the same file with one value changed."""
        return Study(self.file.with_value(key, value), self.hold, self.units)
