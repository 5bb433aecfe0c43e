"""Changes that cure: one-change remedies, each solved again with a new study."""

from leverwright.search.remedy import Effort, Remedy

__all__ = ["Effort", "Remedy"]
