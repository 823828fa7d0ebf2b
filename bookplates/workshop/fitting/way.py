"""A way out: keys of the spec changed, the book made so, and what that takes. Lengths in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from bookplates.errors import Problem
from bookplates.workshop.fitting.trial import Changes, Trial
from bookplates.workshop.fitting.written import toml_lines
from bookplates.workshop.needs import Need

Kind = Literal["as written", "lap", "join", "turn-in", "against grain", "two pieces", "one piece", "quarter", "half", "leaf"]

ORDER: tuple[Kind, ...] = (
    "as written", "lap", "join", "turn-in", "against grain", "two pieces", "one piece", "quarter", "half", "leaf",
)  # fmt: skip
"""How much each alters the book: what nobody sees afterwards first."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way to make the book from the paper on the table.

    Attributes:
        kinds: what is altered.
        sentence: what it is, as a clause.
        changes: keys of the spec, None for one to be taken out.
        without: tables to be taken out.
        trial: the book made so.
        before: the book as written.
        caution: what may come of it, where it is no warning of the plan.
        over: of two ways in one, the book after the first of them.
    """

    kinds: tuple[Kind, ...]
    sentence: str
    changes: Mapping[str, Any]
    without: tuple[str, ...]
    trial: Trial
    before: Trial
    caution: str = ""
    over: Trial | None = None

    @property
    def works(self) -> bool:
        """Whether every piece can then be cut from what is on hand."""
        return self.trial.works

    @property
    def saved(self) -> int:
        """How many sheets it takes less than the book as written."""
        return self.before.sheets - self.trial.sheets

    @property
    def missing(self) -> int:
        """How many sheets and rolls are still not on hand."""
        return self.trial.missing

    @property
    def warnings(self) -> tuple[Problem, ...]:
        """What a binder warns of then, and did not before."""
        return self.trial.new_warnings(self.before)

    @property
    def pieces(self) -> tuple[Need, ...]:
        """The pieces of every material that it alters, threads left aside; of the book as written, its stocked ones."""
        needs, old = self.trial.table.needs, set(self.before.table.needs)
        if self.trial is self.before:
            shown = {need.material for need in needs if self.trial.stock_of(need.material)} - {"text paper", "thread"}
        else:
            shown = {need.material for need in needs if need not in old} - {"thread"}
        return tuple(need for need in needs if need.material in shown)

    @property
    def altered(self) -> frozenset[str]:
        """The materials of which it takes other pieces, or another number of sheets, than the book as written."""
        now, then = self.before.used, self.trial.used
        counted = {key[0] for key in {*now, *then} if now.get(key) != then.get(key)}
        return frozenset({need.material for need in self.pieces} | counted)

    @property
    def toml(self) -> str:
        """The keys to change, as TOML lines."""
        return "\n".join(toml_lines(self.changes, self.without))

    @property
    def source(self) -> bytes:
        """The spec of the book made so."""
        return self.trial.spec.source


@dataclass(frozen=True, slots=True)
class Asked:
    """What a way out is looked for: in the book as it is now, held against the book as written."""

    now: Trial
    before: Trial


Found = Iterator[Way]
Kindly = Callable[[Asked], Found]
"""Looks for ways of one kind."""


def tried(asked: Asked, kind: Kind, sentence: str, changes: Changes, caution: str = "") -> Found:
    """The way, if there is such a book."""
    trial = asked.now.after(changes)
    if trial is not None:
        yield Way((kind,), sentence, changes, (), trial, asked.before, caution)


def both_ways(first: Way, second: Way) -> Way:
    """Two ways in one, the second found in the book of the first."""
    changes = {**first.changes, **second.changes}
    caution = "; ".join(dict.fromkeys(filter(None, (first.caution, second.caution))))
    sentence = f"{first.sentence}; and {second.sentence}"
    kinds = (*first.kinds, *second.kinds)
    return Way(kinds, sentence, changes, first.without, second.trial, first.before, caution, first.trial)
