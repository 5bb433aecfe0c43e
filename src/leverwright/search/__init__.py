"""Changes that cure: one-change remedies, each solved again with a new study."""

from leverwright.search.candidates import candidates
from leverwright.search.cure import cures, outcome
from leverwright.search.edits import Ops, applied, tried
from leverwright.search.remedy import Candidate, Effort, Remedy
from leverwright.search.trials import Trials

__all__ = [
    "Candidate",
    "Effort",
    "Ops",
    "Remedy",
    "Trials",
    "applied",
    "candidates",
    "cures",
    "outcome",
    "tried",
]
