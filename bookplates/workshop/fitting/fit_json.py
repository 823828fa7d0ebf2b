"""What `fit` says as plain values for JSON. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from bookplates.book.as_json import problem_as_json
from bookplates.geometry import Size
from bookplates.workshop.cuts import SheetCuts
from bookplates.workshop.fitting.answer import Answer
from bookplates.workshop.fitting.fit import OnStock, PieceFit
from bookplates.workshop.fitting.largest import FormatFit, Largest
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.way import Way
from bookplates.workshop.fitting.written import toml_lines
from bookplates.workshop.needs import Need
from bookplates.workshop.table import Table


def fit_as_json(answer: Answer) -> dict[str, Any]:
    """Pieces, stock, ways and the largest book."""
    trial = answer.trial
    return {
        "title": trial.plan.title,
        "units": trial.plan.units,
        "books": trial.table.books,
        "spare": trial.table.spare,
        "suffices": trial.works,
        "pieces": [_piece(piece) for piece in answer.pieces],
        "stock": _stock(trial.table),
        "no_stock_of": list(trial.unstocked),
        "ways": [_way(way) for way in answer.ways],
        "largest": None if answer.largest is None else _largest(answer.largest),
        "problems": [problem_as_json(problem) for problem in answer.faults],
        "warnings": [problem_as_json(problem) for problem in answer.warnings],
    }


def _mm(length: float) -> float:
    return round(length, 6) + 0.0


def _size(size: Size | None) -> list[float] | None:
    return None if size is None else [_mm(size.width), _mm(size.height)]


def _need(need: Need) -> dict[str, Any]:
    return {
        "name": need.name,
        "material": need.material,
        "count": need.count,
        "width": _mm(need.size.width),
        "height": _mm(need.size.height),
        "grain": need.grain,
        "whose": need.whose,
    }


def _piece(piece: PieceFit) -> dict[str, Any]:
    return {**_need(piece.need), "on": [_on(one) for one in piece.on]}


def _on(one: OnStock) -> dict[str, Any]:
    return {
        "stock": one.entry.number,
        "name": one.entry.stock.name,
        "fits": one.goes,
        "upright": one.upright,
        "turned": one.turned,
        "against_grain": one.across,
        "each": one.each,
        "left": _size(one.left),
        "left_full": _size(one.left_full),
        "why": one.why,
    }


def _stock(table: Table) -> list[dict[str, Any]]:
    return [
        {
            "stock": cuts.entry.number,
            "material": material.material,
            "name": cuts.entry.stock.name,
            "size": _size(cuts.size) if isinstance(cuts, SheetCuts) else None,
            "length": None if isinstance(cuts, SheetCuts) else _mm(cuts.length),
            "needed": cuts.used,
            "on_hand": cuts.entry.stock.count,
            "missing": cuts.missing,
        }
        for material in table.materials
        for cuts in material.cuts
    ]


def _way(way: Way) -> dict[str, Any]:
    return {
        "kinds": list(way.kinds),
        "sentence": way.sentence,
        "suffices": way.works,
        "pieces": [_need(need) for need in way.pieces],
        "sheets": way.trial.sheets,
        "sheets_now": way.before.sheets,
        "saved": way.saved,
        **_book(way.trial),
        "changes": dict(way.changes),
        "without": list(way.without),
        "toml": way.toml,
        "caution": way.caution,
        "warnings": [problem_as_json(problem) for problem in way.warnings],
    }


def _book(trial: Trial) -> dict[str, Any]:
    return {
        "stock": _stock(trial.table),
        "no_stock_of": list(trial.unstocked),
        "lacking": _whats(lack.what for lack in trial.lacks),
    }


def _whats(whats: Iterable[str]) -> list[str]:
    return list(whats)


def _largest(largest: Largest) -> dict[str, Any]:
    best, leaf = largest.format, largest.leaf
    return {
        "formats": [_format(one) for one in largest.formats],
        "best_format": None if best is None else _format(best),
        "leaf": None
        if leaf is None
        else {
            "size": _size(leaf.size),
            "changes": dict(leaf.changes),
            "toml": "\n".join(toml_lines(leaf.changes)),
            **_book(leaf.trial),
            "next_size": _size(leaf.next_size),
            "next_lacks": list(leaf.lacking),
        },
    }


def _format(one: FormatFit) -> dict[str, Any]:
    return {
        "sheet": one.entry.stock.name,
        "format": one.format,
        "leaf": _size(one.leaf),
        "suffices": one.works,
        "text_sheets": one.sheets,
        "changes": dict(one.changes),
        "toml": "\n".join(toml_lines(one.changes)),
        "lacking": list(one.lacking),
        "warnings": [problem_as_json(problem) for problem in one.warnings],
    }
