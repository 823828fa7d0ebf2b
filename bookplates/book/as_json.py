"""A plan as plain values for JSON: the keys and order that other programs rely on. Lengths in mm."""

from __future__ import annotations

from typing import Any

from bookplates.book.record import Plan
from bookplates.errors import Problem
from bookplates.geometry import Outline
from bookplates.kinds.parts import Layout, Piece
from bookplates.kinds.thread import Leg


def plan_as_json(plan: Plan) -> dict[str, Any]:
    """Every size in mm, to a millionth. Keys are always there; what a style has none of is null or empty."""
    return {
        "title": plan.title,
        "maker": plan.maker,
        "units": plan.units,
        "opening": plan.opening,
        "text_block": _record(plan.text_block),
        "cover": _record(plan.cover),
        "pieces": [_piece(piece) for piece in plan.pieces],
        "layouts": [_layout(layout) for layout in plan.layouts],
        "sewing": {
            **{key: _plain(value) for key, value in _fields(plan.sewing).items() if key != "path"},
            "steps": [step.text for step in plan.sewing.path.steps],
            "legs": [_leg(leg) for leg in plan.sewing.path.legs],
        },
        "tape": None if plan.tape is None else _record(plan.tape),
        "provisional": list(plan.provisional),
        "defaults": [{"where": default.where, "value": default.value} for default in plan.defaults],
        "warnings": [problem_as_json(problem) for problem in plan.warnings],
    }


def problem_as_json(problem: Problem) -> dict[str, str]:
    """A finding without its line: where, what, hint."""
    return {"where": problem.where, "what": problem.what, "hint": problem.hint}


def _fields(record: Any) -> dict[str, Any]:
    return {name: getattr(record, name) for name in type(record).__dataclass_fields__}


def _record(record: Any) -> dict[str, Any]:
    return {key: _plain(value) for key, value in _fields(record).items()}


def _plain(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 6) + 0.0  # no -0.0
    return [_plain(inner) for inner in value] if isinstance(value, tuple) else value


def _points(points: Outline) -> list[list[float]]:
    return [[_plain(float(x)), _plain(float(y))] for x, y in points]


def _piece(piece: Piece) -> dict[str, Any]:
    return {
        "name": piece.name,
        "material": piece.material,
        "count": piece.count,
        "width": _plain(piece.width),
        "height": _plain(piece.height),
        "outline": _points(piece.outline),
        "grain": piece.grain,
    }


def _layout(layout: Layout) -> dict[str, Any]:
    parts = [
        {"name": part.name, "line": part.line, "closed": part.closed, "points": _points(part.points)} for part in layout.parts
    ]
    return {"plate": layout.plate, "title": layout.title, "copies": layout.copies, "parts": parts}


def _leg(leg: Leg) -> dict[str, Any]:
    return {
        "from": leg.start.station,
        "to": leg.end.station,
        "side": leg.start.side,
        "to_side": leg.end.side,
        "deed": leg.deed,
        "length": _plain(leg.length),
        "section": leg.start.section,
        "to_section": leg.end.section,
        "through": _plain(leg.through),
        "edge": leg.edge,
        "linked": leg.linked,
    }
