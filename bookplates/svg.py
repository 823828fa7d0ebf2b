"""True-scale plates as SVG, one unit of a drawing being 1 mm, for whoever cuts by machine or draws on.

A plate is one whole drawing here, however many printer pages it takes. Everything is black; the classes of line are
groups, told apart by their names and by their dashes, never by colour. SVG has y downwards, so that every height is
taken from the drawing's top: nothing is turned over, and letters stay upright.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from bookplates.geometry import Box, Point
from bookplates.letters import composed, width
from bookplates.plates.drawing import Drawing, Fill, Item, Label, Line, Stroke, layer_of
from bookplates.plates.lines import STYLES
from bookplates.plates.pad import box_round

NAMESPACE = "http://www.w3.org/2000/svg"
FAMILY = "'Source Sans Pro', sans-serif"
"""The letters of the printed pack; where they are not installed, any without serifs, drawn as wide."""

ROUND = 1.0
"""Bare room round a drawing, mm, so that no line at its edge is cut off."""

GROUPS: Mapping[str, Line] = {
    "cut": "cut",
    "corners": "cut",
    "fold": "fold",
    "place": "place",
    "centre": "centre",
    "holes": "hole",
    "pricks": "hole",
    "bars": "bar",
    "dimensions": "thin",
    "notes": "thin",
}
"""The groups in their order, each with the class of line that holds in it unless an element says otherwise."""

WHAT_TO_CUT = (
    "True size: one unit is 1 mm. Cut what is in the group cut, and the holes; print or draw the rest. Pricks are only marked: "
    "there a covering goes on its board. Corners are what a rectangle has beyond its mitres, which are cut after gluing."
)
SCALE_FIRST = "Draw this first. Where a bar is not as long as it says, set the scale of the machine: no spec changes that."


@dataclass(frozen=True, slots=True)
class SvgFile:
    """A plate as SVG: its file's name, such as ``wrap-outline-front.svg``, and its bytes."""

    name: str
    data: bytes


def svg_files(drawings: Iterable[Drawing], book: str) -> tuple[SvgFile, ...]:
    """Each drawing that holds anything at true scale, true to size, in the order given. Same drawings, same bytes.

    Args:
        drawings: laid out for a printer that prints true.
        book: the book's title.
    """
    true_scale = [drawing for drawing in drawings if any(drawing.parts())]
    names = _names(true_scale)
    return tuple(SvgFile(name, _written(drawing, book)) for name, drawing in zip(names, true_scale, strict=True))


def _names(drawings: Sequence[Drawing]) -> list[str]:
    """A file name for each, from its plate and its title; a number keeps those apart that would be the same."""
    names: dict[str, None] = {}
    for drawing in drawings:
        called = drawing.title if drawing.title.startswith(drawing.plate) else f"{drawing.plate} {drawing.title}"
        stem = re.sub(r"[^a-z0-9]+", "-", called.casefold()).strip("-") or "plate"
        tried = (f"{stem}-{number}.svg" if number > 1 else f"{stem}.svg" for number in range(1, len(drawings) + 1))
        names[next(name for name in tried if name not in names)] = None
    return list(names)


def _written(drawing: Drawing, book: str) -> bytes:
    items = _for_a_machine(drawing)
    box = _whole((box_round(items) if drawing.whole_page else drawing.box).grown(ROUND))
    across, along = _number(box.size.width), _number(box.size.height)
    root = ET.Element("svg", {"xmlns": NAMESPACE, "width": f"{across}mm", "height": f"{along}mm"})
    root.attrib |= {"viewBox": f"0 0 {across} {along}", "fill": "none", "stroke": "black", "stroke-miterlimit": "10"}
    root.attrib |= {"font-family": FAMILY, "xml:space": "preserve", "data-plate": drawing.plate}
    _say(root, "title", f"{book}: {drawing.title}")
    _say(root, "desc", SCALE_FIRST if drawing.whole_page else WHAT_TO_CUT)
    for group, held in _grouped(items).items():
        _group(root, group, held, drawing.plate, box)
    ET.indent(root, " ")
    data: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return data + b"\n"


def _for_a_machine(drawing: Drawing) -> Sequence[Item]:
    """All of a plate; of the scale page not the words beside its bars, which are about printers."""
    return [item for item in drawing.items if layer_of(item) != "notes"] if drawing.whole_page else drawing.items


def _whole(box: Box) -> Box:
    """The box with its right and its foot moved out to whole mm."""
    return Box(box.left, box.top - math.ceil(box.size.height), box.left + math.ceil(box.size.width), box.top)


def _grouped(items: Iterable[Item]) -> dict[str, list[Item]]:
    """The items by group, empty ones left out."""
    groups: dict[str, list[Item]] = {group: [] for group in GROUPS}
    for item in items:
        groups[_group_of(item)].append(item)
    return {group: held for group, held in groups.items() if held}


def _group_of(item: Item) -> str:
    if isinstance(item, Stroke) and item.part:
        return _group_of_part(item.line, item.part, item.closed)
    return "dimensions" if item.layer == "dimensions" else "notes"


def _group_of_part(line: Line, name: str, closed: bool) -> str:
    """The group of a part; what is pricked or cut later stands apart from what a machine may cut."""
    if line == "hole":
        return "pricks" if "prick" in name.split() else "holes"
    if line == "cut":
        return "cut" if closed or not name.endswith(" corner") else "corners"
    return "bars" if line == "bar" else line


def _group(root: ET.Element, group: str, items: Iterable[Item], plate: str, box: Box) -> None:
    held = ET.SubElement(root, "g", {"id": group, **_style(GROUPS[group])})
    for item in items:
        if isinstance(item, Stroke):
            _stroke(held, item, plate, box, {} if item.line == GROUPS[group] else _style(item.line))
        elif isinstance(item, Fill):
            ET.SubElement(held, "path", {"d": _path(item.points, True, box), **_ink("fill", item.grey), "stroke": "none"})
        else:
            _label(held, item, box)


def _style(line: Line) -> dict[str, str]:
    """Width and dashes of a class of line, mm, and its ink where that is not full."""
    style = STYLES[line]
    dashes = {"stroke-dasharray": " ".join(map(_number, style.dashes))} if style.dashes else {}
    return {"stroke-width": _number(style.width), **dashes, **(_ink("stroke", style.grey) if style.grey else {})}


def _ink(what: str, grey: float) -> dict[str, str]:
    """Black, thinned to a grey."""
    return {what: "black", **({f"{what}-opacity": _number(1 - grey)} if grey else {})}


def _stroke(held: ET.Element, stroke: Stroke, plate: str, box: Box, style: Mapping[str, str]) -> None:
    """A line, an outline or a circle; a part says which it is."""
    if stroke.line == "hole":
        right, _, left, _ = stroke.points
        x, y = _at(((right[0] + left[0]) / 2, right[1]), box)
        drawn = ET.SubElement(held, "circle", {"cx": x, "cy": y, "r": _number((right[0] - left[0]) / 2), **style})
    else:
        drawn = ET.SubElement(held, "path", {"d": _path(stroke.points, stroke.closed, box), **style})
    if stroke.part:
        drawn.attrib |= {"data-plate": plate, "data-name": stroke.part, "data-line": stroke.line}
        _say(drawn, "title", f"{stroke.part} ({stroke.line})")


def _label(held: ET.Element, label: Label, box: Box) -> None:
    """A line of text, turned about its anchor, as wide as the pack prints it."""
    x, y = _at(label.at, box)
    wide = _number(width(label.text, label.size, label.bold))
    about = {"x": x, "y": y, "font-size": _number(label.size), "textLength": wide, "lengthAdjust": "spacingAndGlyphs"}
    about |= {"fill": "black", "stroke": "none"}
    about |= {"font-weight": "bold"} if label.bold else {}
    about |= {"text-anchor": label.anchor} if label.anchor != "start" else {}
    about |= {"transform": f"rotate({_number(-label.angle)} {x} {y})"} if label.angle else {}
    _say(held, "text", composed(label.text), about)


def _say(held: ET.Element, tag: str, text: str, attributes: Mapping[str, str] | None = None) -> None:
    ET.SubElement(held, tag, dict(attributes or {})).text = text


def _path(points: Iterable[Point], closed: bool, box: Box) -> str:
    first, *others = (" ".join(_at(point, box)) for point in points)
    return " ".join([f"M {first}", *(f"L {at}" for at in others), *(["Z"] if closed else [])])


def _at(point: Point, box: Box) -> tuple[str, str]:
    """A place on the plate as SVG has it: from the left, and down from the top."""
    return _number(point[0] - box.left), _number(box.top - point[1])


def _number(value: float) -> str:
    """A number to a hundred-thousandth of a mm.

    >>> _number(130.0), _number(-1e-9), _number(0.25)
    ('130', '0', '0.25')
    """
    digits = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if digits == "-0" else digits
