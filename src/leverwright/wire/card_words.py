"""Study → what was measured, in sentences for the job cards."""

from __future__ import annotations

from collections.abc import Iterable

from leverwright.assemble.bench import spring_fits
from leverwright.assemble.spring_fit import SpringFit
from leverwright.project import Sketch
from leverwright.quantity import in_inches
from leverwright.search.pile import PileAdvice, pile_alone, pile_of
from leverwright.search.spring_words import fit_words
from leverwright.study import Study
from leverwright.wire.card_loads import ride_lines, weigh_lines
from leverwright.wire.card_tapes import next_tapes, tape_lines, tapes_of
from leverwright.wire.cards import CardLine, Cards, Verdict

__all__ = ["cards_of", "cards_of_shocks"]


def cards_of(study: Study) -> Cards:
    """Everything that the cards of weighing and measuring say of a whole vehicle."""
    return Cards(
        weigh=_lines(weigh_lines(study)),
        ride={name: _lines(ride_lines(of)) for name, of in study.sets.items()},
        squash={name: _lines(_squashed(fit)) for name, fit in study.measured.springs.items()},
        pile=_lines(_piled(pile_of(study))),
        tape=_lines(tape_lines(study)),
        tapes={name: _line(*said) for name, said in tapes_of(study).items()},
        next_tapes=next_tapes(study),
    )


def cards_of_shocks(sketch: Sketch) -> Cards:
    """What can be said while the vehicle is not whole: its shocks."""
    return Cards(
        weigh=[],
        ride={},
        squash={name: _lines(_squashed(fit)) for name, fit in spring_fits(sketch).items()},
        pile=_lines(_piled(pile_alone(sketch))),
        tape=[],
        tapes={},
        next_tapes=[],
    )


def _lines(said: Iterable[tuple[Verdict, str]]) -> list[CardLine]:
    return [_line(verdict, words) for verdict, words in said]


def _line(verdict: Verdict, words: str) -> CardLine:
    return CardLine(verdict, words, in_inches(words))


def _squashed(fit: SpringFit) -> Iterable[tuple[Verdict, str]]:
    """Why not to use it first, then its numbers, then how far they can be believed."""
    against: Verdict = "stop" if fit.rejected else "fix"
    for index, words in enumerate(fit_words(fit)):
        if index < len(fit.unfit):
            yield against, words
        elif index == len(fit.unfit) and fit.rate is not None:
            yield "said" if fit.rejected else "good", words
        else:
            yield "said", words


def _piled(advice: PileAdvice | None) -> Iterable[tuple[Verdict, str]]:
    if advice is None:
        return
    for index, words in enumerate(advice.sentences):
        out = " is out: " in words
        yield "stop" if out else "good" if index == 0 and advice.best is not None else "said", words
