"""A plan with what is on the table: stock, how it is cut, what to buy."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from bookplates.pipeline.book import checked_spec
from bookplates.pipeline.on_table import OnTable

if TYPE_CHECKING:
    from bookplates.workshop.shopping import Line


class Planned(OnTable):
    """A plan, and the spec that it was worked out from. The paper is looked at only when somebody asks."""

    @property
    def shopping(self) -> tuple[Line, ...]:
        """What to buy and have ready, where stock or a class is written; else nothing."""
        return self._listed() if self.spec.shops else ()

    def _listed(self) -> tuple[Line, ...]:
        from bookplates.handout.buying import shopping_list

        return shopping_list(self.plan, self.table)

    def as_json(self) -> dict[str, Any]:
        """The plan as plain values, and after it the stock, how it is cut, and what to buy."""
        from bookplates.book.as_json import plan_as_json, problem_as_json
        from bookplates.workshop.as_json import bench_as_json

        warnings = [problem_as_json(problem) for problem in self.warnings]
        bench = bench_as_json(self.spec.stock, self.table, self._listed())
        return {**plan_as_json(self.plan), "warnings": warnings, **bench}


def planned(source: str | bytes, folder: Path | None = None) -> Planned:
    """Work a book out from the text of its spec, ready to ask what its paper is cut from.

    Args:
        source: the spec, TOML as text or UTF-8 bytes.
        folder: where the spec stands, for the font that it may name; None where that is not known.

    Raises:
        BadSpec: with every problem found, each with its key.
    """
    from bookplates.book.plan import plan as work_out

    spec = checked_spec(source, for_printing=False, folder=folder)
    return Planned(spec, work_out(spec))
