"""Times work and its reference in turn, in one run, so that a busy machine slows both alike."""

import statistics
from collections.abc import Callable
from dataclasses import dataclass
from time import perf_counter

__all__ = ["Row", "median_of", "side_by_side"]


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table; times in seconds."""

    work: str
    took: float
    budget: float
    reference: str = ""
    reference_took: float | None = None
    least_ratio: float | None = None  # reference / work, at least
    most_ratio: float | None = None  # work / reference, at most

    @property
    def ratio(self) -> float | None:
        """How many times slower the reference is."""
        return None if self.reference_took is None else self.reference_took / self.took

    @property
    def verdict(self) -> str:
        """Whether time and ratio keep what the design asks."""
        said = ["within budget" if self.took <= self.budget else "OVER BUDGET"]
        if self.ratio is not None and self.least_ratio is not None:
            said.append(
                "ratio kept" if self.ratio >= self.least_ratio else f"RATIO UNDER {self.least_ratio:g}"
            )
        if self.ratio is not None and self.most_ratio is not None:
            said.append(
                "ratio kept" if 1 / self.ratio <= self.most_ratio else f"OVER {self.most_ratio:g} TIMES IT"
            )
        return ", ".join(said)


def median_of(work: Callable[[], object], rounds: int) -> float:
    """Median time [s] of a warm call."""
    work()
    return statistics.median(_once(work) for _ in range(rounds))


def side_by_side(
    work: Callable[[], object], reference: Callable[[], object], rounds: int, inner: int = 1
) -> tuple[float, float]:
    """Median times [s] of both, called in turn; `inner` calls of the work for one of the reference."""
    work()
    reference()
    ours: list[float] = []
    theirs: list[float] = []
    for _ in range(rounds):
        ours.extend(_once(work) for _ in range(inner))
        theirs.append(_once(reference))
    return statistics.median(ours), statistics.median(theirs)


def _once(work: Callable[[], object]) -> float:
    begin = perf_counter()
    work()
    return perf_counter() - begin
