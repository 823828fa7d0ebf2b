"""Numbers, strings, paths and matrices as a PDF content stream writes them (ISO 32000-1, 7.3 and 8.5)."""

from __future__ import annotations

from collections.abc import Iterable

from bookplates.geometry import Matrix, Outline, Point

KAPPA = 0.5522847498
"""How far a quarter circle's control points stand from its ends, in radii: 4/3 (sqrt 2 - 1)."""

_ESCAPED = tuple(f"\\{chr(c)}" if chr(c) in "()\\" else chr(c) if 32 <= c < 127 else f"\\{c:03o}" for c in range(256))
"""Each code as it stands in a literal string (ISO 32000-1, 7.3.4.2)."""


def number(value: float) -> str:
    """A number to a millionth, in mm a nanometre.

    >>> number(12.5), number(-1e-9), number(100.0)
    ('12.5', '0', '100')
    """
    digits = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if digits == "-0" else digits


def numbers(values: Iterable[float]) -> str:
    """Numbers with spaces between."""
    return " ".join(map(number, values))


def transform(matrix: Matrix) -> str:
    """The operator for a matrix. A scale multiplies every length after it, so its numbers have more digits.

    >>> transform(Matrix.move(10, 0.25))
    '1 0 0 1 10 0.25 cm'
    """
    return " ".join(f"{value:.12f}".rstrip("0").rstrip(".").replace("-0", "0", value == 0) for value in matrix) + " cm"


def literal(text: str) -> str:
    r"""A text string: plain where it is printable ASCII, else UTF-16BE with its mark, in hexadecimal digits.

    >>> literal("board (front)"), literal("½")
    ('(board \\(front\\))', '<FEFF00BD>')
    """
    if text.isascii() and text.isprintable():
        escaped = text.replace("\\", r"\\").replace("(", r"\(").replace(")", r"\)")
        return f"({escaped})"
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"


def string(codes: bytes) -> str:
    r"""Letters of an embedded font by their codes; readers take twice as long over hexadecimal digits.

    >>> string(b"(a)\x07")
    '(\\(a\\)\\007)'
    """
    return f"({''.join(map(_ESCAPED.__getitem__, codes))})"


def polyline(points: Outline, closed: bool) -> str:
    """A path of straight lines, not yet painted."""
    first, *others = (f"{number(x)} {number(y)}" for x, y in points)
    lines = "".join(f" {at} l" for at in others)
    return f"{first} m{lines}{' h' if closed else ''}"


def circle(points: Outline) -> str:
    """A circle by its right, top, left and bottom points, as four Bezier curves from the first round to it."""
    right, top, left, _ = points
    centre = (right[0] + left[0]) / 2, (right[1] + left[1]) / 2
    ends = zip(points, (top, *points[2:], right), strict=True)
    return f"{numbers(right)} m {' '.join(_quarter(start, end, centre) for start, end in ends)} h"


def _quarter(start: Point, end: Point, centre: Point) -> str:
    """The curve from one point of a circle to the next; each control point lies on its end's tangent."""
    first = _towards(start, end, centre)
    second = _towards(end, start, centre)
    return f"{numbers((*first, *second, *end))} c"


def _towards(point: Point, other: Point, centre: Point) -> Point:
    return point[0] + KAPPA * (other[0] - centre[0]), point[1] + KAPPA * (other[1] - centre[1])
