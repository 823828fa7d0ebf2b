"""The paper on the table as plain values for JSON: stock, how it is cut, what to buy. Lengths in mm, to a millionth."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from bookplates.geometry import Size
from bookplates.lengths import Units
from bookplates.spec.stock import Stock
from bookplates.workshop.cuts import Entry, MaterialCuts, RollCuts, SheetCuts
from bookplates.workshop.cutting.order import Part, Step, parts, steps
from bookplates.workshop.cutting.roll import CutRoll
from bookplates.workshop.cutting.tree import CutSheet, Offcut, Put
from bookplates.workshop.shopping import Line
from bookplates.workshop.table import Table


def bench_as_json(stock: Iterable[Stock], table: Table, shopping: Iterable[Line]) -> dict[str, Any]:
    """Three keys, always there: what there is to cut from, how it is cut, what to buy."""
    return {
        "stock": [_stock(one) for one in stock],
        "cutting": [_material(cuts, table.usual.units) for cuts in table.materials],
        "shopping": [_line(line) for line in shopping],
    }


def _mm(value: float) -> float:
    return round(value, 6) + 0.0  # no -0.0


def _size(size: Size | None) -> list[float] | None:
    return None if size is None else [_mm(side) for side in size]


def _optional(value: float | None) -> float | None:
    return None if value is None else _mm(value)


def _stock(stock: Stock) -> dict[str, Any]:
    return {
        "material": stock.material,
        "name": stock.name,
        "size": _size(stock.size),
        "length": _optional(stock.length),
        "width": _optional(stock.width),
        "grain": stock.grain,
        "against_grain": stock.against_grain,
        "pattern": stock.pattern,
        "count": stock.count,
        "price": stock.price,
    }


# ---- how it is cut


def _material(cuts: MaterialCuts, units: Units) -> dict[str, Any]:
    return {
        "material": cuts.material,
        "sheets": [_sheets(one) for one in cuts.sheets],
        "rolls": [_rolls(one, units) for one in cuts.rolls],
        "without": [
            {"name": need.name, "count": need.count, "width": _mm(need.size.width), "height": _mm(need.size.height)}
            for need in cuts.without
        ],
    }


def _entry(entry: Entry) -> dict[str, Any]:
    """The stock's name, and its number in the spec; null for the sheet that only [text_block] names."""
    return {"stock": entry.stock.name, "number": entry.number}


def _sheets(cuts: SheetCuts) -> dict[str, Any]:
    stock = cuts.entry.stock
    return {
        **_entry(cuts.entry),
        "size": _size(cuts.size),
        "grain": stock.grain,
        "pattern": stock.pattern,
        "blade": _mm(cuts.blade),
        "against_grain": cuts.against,
        "used": cuts.used,
        "on_hand": stock.count,
        "missing": cuts.missing,
        "ways": [_way(cuts, way) for way in cuts.ways],
    }


def _way(cuts: SheetCuts, way: CutSheet) -> dict[str, Any]:
    made = parts(way.tree, cuts.blade)
    return {
        "times": way.times,
        "cuts": [_step(step) for step in steps(way.tree, cuts.blade)],
        "pieces": [_piece(cuts, part, part.node) for part in made if isinstance(part.node, Put)],
        "offcuts": [_place(part) for part in made if isinstance(part.node, Offcut)],
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "number": step.number,
        "part": step.part,
        "upright": step.upright,
        "stop": _mm(step.stop),
        "first": step.first,
        "rest": step.rest,
    }


def _piece(cuts: SheetCuts, part: Part, put: Put) -> dict[str, Any]:
    return {"part": part.number, "name": cuts.kinds[put.want].name, "turned": put.turned, **_place(part)}


def _place(part: Part) -> dict[str, Any]:
    """Where a part lies on the sheet, from its lower left corner, and how large it is."""
    wide, high = part.node.size
    return {
        "part": part.number,
        "x": _mm(part.box.left),
        "y": _mm(part.box.bottom),
        "width": _mm(wide),
        "height": _mm(high),
    }


def _rolls(cuts: RollCuts, units: Units) -> dict[str, Any]:
    return {
        **_entry(cuts.entry),
        "length": _mm(cuts.length),
        "used": cuts.used,
        "on_hand": cuts.entry.stock.count,
        "missing": cuts.missing,
        "ways": [_roll(cuts, roll, units) for roll in cuts.rolls],
    }


def _roll(cuts: RollCuts, roll: CutRoll, units: Units) -> dict[str, Any]:
    lengths, left = cuts.measured_off(roll, units)
    return {
        "times": roll.times,
        "pieces": [
            {"name": kind.name, "count": count, "width": _mm(kind.want.size.width), "length": _mm(length)}
            for kind, count, length in zip(cuts.kinds, roll.counts, lengths, strict=True)
            if count
        ],
        "left": _mm(left),
    }


# ---- what to buy


def _line(line: Line) -> dict[str, Any]:
    total = line.total
    return {
        "what": line.what,
        "material": line.material,
        "name": line.name,
        "number": line.number,
        "whose": line.whose,
        "needed": line.needed,
        "on_hand": line.on_hand,
        "to_buy": line.to_buy,
        "size": _size(line.size),
        "length": _optional(line.length),
        "area": _mm(line.area),
        "grain": line.grain,
        "share": line.share,
        "price": line.price,
        "currency": line.each.currency if line.each else None,
        "each": str(line.each.amount) if line.each else None,
        "total": str(total.amount) if total else None,
    }
