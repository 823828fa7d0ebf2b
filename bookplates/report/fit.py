"""What `fit` says, for people: each piece on the paper on the table, the ways out, the largest book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from bookplates.geometry import Size
from bookplates.handout.stock_words import left_on_roll
from bookplates.lengths import Units, both, both_sizes, counted
from bookplates.spec.stock import Stock
from bookplates.workshop.cuts import MaterialCuts, RollCuts, SheetCuts
from bookplates.workshop.fitting.answer import Answer
from bookplates.workshop.fitting.fit import OnStock, PieceFit
from bookplates.workshop.fitting.largest import FormatFit, Largest
from bookplates.workshop.fitting.leaf_search import FoundLeaf
from bookplates.workshop.fitting.told import alike, called, remarks, sentence, taken, verdict
from bookplates.workshop.fitting.trial import Trial
from bookplates.workshop.fitting.way import Way
from bookplates.workshop.fitting.written import toml_lines
from bookplates.workshop.lacking import sheet_in_words, size_in_words
from bookplates.workshop.table import Table

ENOUGH, NOT_ENOUGH = "the paper suffices", "the paper does not suffice"


def fit_table(answer: Answer) -> str:
    """All of it, in both units."""
    trial = answer.trial
    lines = [f"{trial.plan.title}: {ENOUGH if trial.works else NOT_ENOUGH}", _books(trial.table)]
    for cuts in trial.table.materials:
        if trial.stock_of(cuts.material):
            lines += ["", *_material(trial, cuts, answer.pieces)]
    if trial.unstocked:
        lines += ["", f"No stock is written of: {', '.join(trial.unstocked)}"]
    if answer.ways:
        lines += ["", *_ways(answer.ways, trial.spec.units)]
    if answer.largest is not None:
        lines += ["", *_largest(answer.largest, trial.spec.units)]
    return "\n".join(lines)


def _books(table: Table) -> str:
    return f"Paper for {counted(table.books, 'book')}{f' and {table.spare} spare' if table.spare else ''}"


# ---- pieces on the stock


def _material(trial: Trial, cuts: MaterialCuts, pieces: Sequence[PieceFit]) -> Iterator[str]:
    units = trial.spec.units
    own = [piece for piece in pieces if piece.need.material == cuts.material]
    for number, entry in enumerate(trial.stock_of(cuts.material)):
        yield f"{cuts.material} from {_stock(entry.stock, units)}"
        rows = [(called(piece.need), size_in_words(piece.need, units), _lies(piece.on[number], units)) for piece in own]
        yield from _rows(rows)
        used = next((one for one in cuts.cuts if one.entry == entry), None)
        yield f"  {_needed(used, entry.stock)}"


def _stock(stock: Stock, units: Units) -> str:
    """A stock with all that is known of it."""
    words = [sheet_in_words(stock, units)]
    if not stock.on_roll:
        words.append("no grain known" if stock.grain == "none" else f"grain {stock.grain}")
    words += [f"{stock.pattern} motif"] if stock.pattern != "none" else []
    return ", ".join(words)


def _lies(one: OnStock, units: Units) -> str:
    if not one.goes:
        return f"does not go on: {one.why}"
    if one.entry.stock.on_roll:
        left = left_on_roll(one.left_full.height, units) if one.left_full else "nothing"
        return f"{one.each} off a roll, {left} left"
    many = f"; beside all {one.each}: {_offcut(one.left_full, units)}" if one.each > 1 else ""
    return f"{one.way}, {one.each} to a sheet; left over beside one: {_offcut(one.left, units)}{many}"


def _offcut(size: Size | None, units: Units) -> str:
    return "nothing" if size is None else both_sizes(size, units)


def _needed(used: SheetCuts | RollCuts | None, stock: Stock) -> str:
    what = "roll" if stock.on_roll else "sheet"
    if used is None:
        return "nothing is cut from it"
    hand = "" if stock.count is None else f", {stock.count} on hand{f', {used.missing} missing' if used.missing else ''}"
    return f"{counted(used.used, what)} needed{hand}"


def _rows(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """Rows in columns; the last is as long as it likes."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]) - 1)]
    for row in rows:
        yield "  " + "  ".join([*(f"{cell:<{wide}}" for cell, wide in zip(row, widths, strict=False)), row[-1]])


# ---- ways out


def _ways(ways: Sequence[Way], units: Units) -> Iterator[str]:
    """The ways, numbered; the book as written is number 0."""
    if len(ways) > 1:
        yield "Ways, each tried"
    else:
        yield "No other way takes less" if ways[0].works else "No way out was found: larger paper, or another book"
    for number, way in enumerate(ways):
        yield ""
        yield f"{number}  {sentence(way.sentence)}: {verdict(way)}"
        yield from (f"   {line}" for line in _about(way, units))


def _about(way: Way, units: Units) -> Iterator[str]:
    rows = list(alike(way.pieces, units))
    yield from (line[2:] for line in _rows(rows)) if rows else ()
    yield from remarks(way)
    if way.trial.goes:
        yield from (f"    {line}" for line in way.toml.splitlines())


# ---- the largest book


def _largest(largest: Largest, units: Units) -> Iterator[str]:
    if largest.formats:
        yield "The sheets of text paper in each format"
        yield from _rows([_format(one, units) for one in largest.formats])
        best = largest.format
        yield f"  {_best(best, units)}" if best else "  In none of them does the paper suffice"
        yield from (f"    {line}" for line in (toml_lines(best.changes) if best else ()))
        yield ""
    if largest.leaf is None:
        yield "No leaf of the book's own proportions can be made from this paper"
    else:
        yield from _leaf(largest.leaf, units)


def _format(one: FormatFit, units: Units) -> tuple[str, ...]:
    verdict = "; but ".join(["fits", *(problem.what for problem in one.warnings)]) if one.works else "; ".join(one.lacking)
    sheets = counted(one.sheets, "sheet") if one.trial else "-"
    return one.entry.stock.name, one.format, f"leaf {both_sizes(one.leaf, units)}", sheets, verdict


def _best(best: FormatFit, units: Units) -> str:
    written = "" if best.changes else ", as the book is written"
    return f"The largest: {best.format} of {best.entry.stock.name}, leaf {both_sizes(best.leaf, units)}{written}"


def _leaf(leaf: FoundLeaf, units: Units) -> Iterator[str]:
    yield f"The largest leaf of the book's own proportions: {both_sizes(leaf.size, units)}"
    yield from _limits(leaf, units)
    yield from _used(leaf.trial)
    yield from (f"    {line}" for line in toml_lines(leaf.changes))


def _limits(leaf: FoundLeaf, units: Units) -> Iterable[str]:
    step = both(leaf.next_size.height, units)
    return [f"  one step larger, {step} tall: {what}" for what in leaf.lacking] or [
        f"  one step larger, {step} tall, is no book that can be made: it is not the paper that sets the limit"
    ]


def _used(trial: Trial) -> Iterable[str]:
    return [f"  {key[0]}: {taken(key, used)}" for key, used in trial.used.items()]
