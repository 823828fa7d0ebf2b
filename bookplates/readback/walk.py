"""Follows a page's content through its graphics states and forms, and keeps what is drawn inside parts.

`operations` splits the content into operators; the matrices are multiplied here: a new one comes before the current
one, points being rows (ISO 32000-1, 8.3.4). pypdf's text visitor begins again with an unchanged matrix inside forms.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from bookplates.geometry import Box, Matrix, Point, bounds, rectangle
from bookplates.readback.operations import Operands, Operations, numbers, objects
from bookplates.readback.paths import Broken, Pen, Subpath

DEEPEST_FORM = 16
MOST_OPERATORS = 4_000_000
"""Forms that draw forms can ask for more work than any computer does; no pack comes near this."""


@dataclass(slots=True)
class MarkedPart:
    """A part as the content marks it; `matrix` is the one it was painted under, `window` what it was clipped to, in mm."""

    plate: str
    name: str
    line: str
    pen: Pen = field(default_factory=Pen)
    matrix: Matrix = field(default_factory=Matrix)
    window: Box | None = None

    @property
    def path(self) -> Subpath:
        """Its one outline or line. Raises Broken for none or several."""
        found = len(self.pen.painted)
        if found != 1:
            count = "nothing" if found == 0 else f"{found} outlines or lines"
            raise Broken(f"the part {self.name!r} draws {count}; one outline or one line is what a part holds")
        return self.pen.painted[0]


def entry(dictionary: Any, key: str) -> Any:
    """What a PDF dictionary holds under a key, references followed; None where it holds nothing."""
    value: Any = dictionary.get(key) if hasattr(dictionary, "get") else None
    value = value.get_object() if hasattr(value, "get_object") else value
    return None if type(value).__name__ == "NullObject" else value


def _plain(word: str) -> str:
    """A string as it is, a PDF name without its slash."""
    return word[1:] if type(word).__name__ == "NameObject" else str(word)


class Walk:
    """One page's content, followed from its first operator to its last."""

    def __init__(self, read: Callable[[Any], Operations], matrix: Matrix, budget: int = MOST_OPERATORS) -> None:
        self.parts: list[MarkedPart] = []
        self.budget = budget
        self._read = read
        self._matrix = matrix
        self._window: Box | None = None
        self._saved: list[tuple[Matrix, Box | None]] = []
        self._marks: list[MarkedPart | None] = []
        self._part: MarkedPart | None = None
        self._resources: Any = None
        self._forms: list[int] = []
        self._known: dict[int, Operations] = {}

    def follow(self, operations: Operations, resources: Any) -> None:
        """Follow one stream: a page's, or a form's. Raises Broken where it makes no sense."""
        outer = self._saved, self._marks, self._resources
        self._saved, self._marks, self._resources = [], [], resources
        self.budget -= len(operations)
        if self.budget < 0:
            raise Broken("its forms draw one another without end")
        for number, (operands, operator) in enumerate(operations):
            act = _ANYWHERE.get(operator) or (_IN_PARTS.get(operator) if self._part else None)
            if act:
                act(self, operands)
            elif operator in _CLIPS and number:
                self.clip(operations, number)
        if self._saved or self._marks:
            raise Broken("it ends inside a graphics state (q)" if self._saved else "it ends inside marked content")
        self._saved, self._marks, self._resources = outer

    def save(self, _: Operands) -> None:
        """Operator q: keep the matrix and the clip for later."""
        self._saved.append((self._matrix, self._window))

    def restore(self, _: Operands) -> None:
        """Operator Q: back to the matrix and the clip kept last."""
        if not self._saved:
            raise Broken("it restores a graphics state (Q) that it never saved")
        self._matrix, self._window = self._saved.pop()

    def clip(self, operations: Operations, number: int) -> None:
        """Operators W and W*: nothing after them shows outside the box round the path before them."""
        points: list[Point] = []
        for at in range(number - 1, -1, -1):
            operands, operator = operations[at]
            if operator not in _PATH:
                break
            values = numbers(operands, _PATH[operator])
            points += rectangle(*values) if operator == b"re" else zip(values[::2], values[1::2], strict=True)
        if points:
            self._narrow(points)

    def _narrow(self, points: Iterable[Point]) -> None:
        window = bounds(map(self._matrix.at, points))
        self._window = window.met(self._window) if self._window else window

    def change(self, operands: Operands) -> None:
        """Operator cm: a new matrix before the current one."""
        self._matrix = self._matrix.after(Matrix(*numbers(operands, 6)))

    def begin(self, operands: Operands) -> None:
        """Operators BDC and BMC: marked content begins, perhaps a part."""
        named = objects(operands)
        part = self._marked(named) if named and named[0] == "/Part" else None
        if part and self._part:
            raise Broken(f"the part {part.name!r} begins inside the part {self._part.name!r}")
        self._part = part or self._part
        self._marks.append(part)

    def end(self, _: Operands) -> None:
        """Operator EMC: the marked content begun last ends."""
        if not self._marks:
            raise Broken("it ends marked content (EMC) that it never began")
        part = self._marks.pop()
        if part:
            self.parts.append(part)
            self._part = None

    def draw(self, operands: Operands) -> None:
        """Operator Do: a form is content, an image is not."""
        names = objects(operands)
        name = names[0] if len(names) == 1 else ""
        form = entry(entry(self._resources, "/XObject"), name)
        if form is None:
            raise Broken(f"it draws {name}, which its resources do not hold")
        if entry(form, "/Subtype") == "/Form":
            self._form(form)

    def _form(self, form: Any) -> None:
        if id(form) in self._forms:
            raise Broken("a form draws itself")
        if len(self._forms) >= DEEPEST_FORM:
            raise Broken(f"forms lie more than {DEEPEST_FORM} deep")
        self._forms.append(id(form))
        before, matrix = (self._matrix, self._window), entry(form, "/Matrix")
        if matrix is not None:
            self._matrix = self._matrix.after(Matrix(*numbers([value.get_object() for value in matrix], 6)))
        box = entry(form, "/BBox")
        if box is not None:
            x0, y0, x1, y1 = numbers([value.get_object() for value in box], 4)
            self._narrow(rectangle(x0, y0, x1 - x0, y1 - y0))
        resources = entry(form, "/Resources")
        self.follow(self._operations(form), self._resources if resources is None else resources)
        self._matrix, self._window = before
        self._forms.pop()

    def _operations(self, form: Any) -> Operations:
        if id(form) not in self._known:
            self._known[id(form)] = self._read(form)
        return self._known[id(form)]

    def _marked(self, operands: list[Any]) -> MarkedPart | None:
        """The part a property list names. A structure element of a tagged PDF, also called Part, is none."""
        properties = operands[1] if len(operands) == 2 else None
        if isinstance(properties, str):
            properties = entry(entry(self._resources, "/Properties"), properties)
            if properties is None:
                raise Broken(f"the properties {operands[1]} of a part are missing from its resources")
        words = [entry(properties, key) for key in ("/Plate", "/Name", "/Line")]
        if all(word is None for word in words):
            return None
        if not all(isinstance(word, str) for word in words):
            raise Broken("a part has not a plate, a name and a line, each in words")
        plate, name, line = (_plain(word) for word in words)
        return MarkedPart(plate, name, line)

    @property
    def _open(self) -> MarkedPart:
        assert self._part is not None, "path operators are looked up inside parts only"
        return self._part

    def path(self, operands: Operands, step: Callable[[Pen, list[Point]], None], count: int) -> None:
        """Give the points of a path operator, in mm on the paper, to the pen."""
        matrix, values = self._matrix, numbers(operands, 2 * count)
        step(self._open.pen, [matrix.at(point) for point in zip(values[::2], values[1::2], strict=True)])

    def rectangle(self, operands: Operands) -> None:
        """Operator re: a closed rectangle from its corner, width and height."""
        pen, matrix = self._open.pen, self._matrix
        x, y, width, height = numbers(operands, 4)
        pen.move(matrix.at((x, y)))
        for corner in ((x + width, y), (x + width, y + height), (x, y + height)):
            pen.line(matrix.at(corner))
        pen.close()

    def finish(self, *steps: Callable[[Pen], None]) -> None:
        """Let the pen close, paint or drop what it built."""
        part = self._open
        before = len(part.pen.painted)
        for step in steps:
            step(part.pen)
        if len(part.pen.painted) > before:
            part.matrix, part.window = self._matrix, self._window


Action = Callable[[Walk, Operands], None]


def _construct(step: Callable[[Pen, list[Point]], None], count: int) -> Action:
    return lambda walk, operands: walk.path(operands, step, count)


def _finish(*steps: Callable[[Pen], None]) -> Action:
    return lambda walk, _: walk.finish(*steps)


_ANYWHERE: dict[bytes, Action] = {
    b"q": Walk.save, b"Q": Walk.restore, b"cm": Walk.change,
    b"BDC": Walk.begin, b"BMC": Walk.begin, b"EMC": Walk.end, b"Do": Walk.draw,
}  # fmt: skip

_CLIPS = (b"W", b"W*")
_PATH = {b"m": 2, b"l": 2, b"c": 6, b"v": 4, b"y": 4, b"h": 0, b"re": 4}

_IN_PARTS: dict[bytes, Action] = {
    b"m": _construct(lambda pen, at: pen.move(*at), 1),
    b"l": _construct(lambda pen, at: pen.line(*at), 1),
    b"c": _construct(lambda pen, at: pen.curve(*at), 3),
    b"v": _construct(lambda pen, at: pen.curve(pen.at, *at), 2),
    b"y": _construct(lambda pen, at: pen.curve(at[0], at[1], at[1]), 2),
    b"re": Walk.rectangle,
    b"h": _finish(Pen.close),
    b"s": _finish(Pen.close, Pen.paint), b"b": _finish(Pen.close, Pen.paint), b"b*": _finish(Pen.close, Pen.paint),
    b"S": _finish(Pen.paint), b"B": _finish(Pen.paint), b"B*": _finish(Pen.paint),
    b"f": _finish(Pen.fill), b"F": _finish(Pen.fill), b"f*": _finish(Pen.fill),
    b"n": _finish(Pen.drop),
}  # fmt: skip
