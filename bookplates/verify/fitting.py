"""How measured parts lie on planned ones: which is which, and the one turn and move that fits them. Lengths in mm."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from bookplates.errors import Problem
from bookplates.geometry import Matrix, Outline, Point, signed_area
from bookplates.kinds.parts import Layout, Part
from bookplates.readback import MeasuredPart

TOLERANCE = 0.005
"""How far a point may lie from the plan, mm. The best fit halves a fault, so that one of 0.01 mm is found; writing a PDF rounds
by 0.0003 mm at worst."""

Key = tuple[str, str]
"""Name and line of a part."""
Pair = tuple[Part, MeasuredPart]


def name_of(part: Part | MeasuredPart) -> Key:
    """What a part is called, and how it is drawn."""
    return part.name, part.line


def names_of(parts: Sequence[Part | MeasuredPart]) -> Counter[Key]:
    """The same of several parts, and how often each occurs."""
    return Counter(name_of(part) for part in parts)


def paired(layout: Layout, parts: Sequence[MeasuredPart]) -> list[Pair]:
    """Planned and measured parts side by side, by name and line; of several alike in their order."""
    return list(zip(sorted(layout.parts, key=name_of), sorted(parts, key=name_of), strict=True))


def begun(layout: Layout, run: Sequence[MeasuredPart]) -> list[Pair]:
    """As much of the run's beginning as belongs to one instance of the layout."""
    left = list(layout.parts)
    pairs: list[Pair] = []
    for part in run:
        planned = next((other for other in left if name_of(other) == name_of(part)), None)
        if planned is None:
            break
        left.remove(planned)
        pairs.append((planned, part))
    return pairs


def differences(planned: Part, measured: MeasuredPart, motion: Matrix) -> Iterator[Problem]:
    """How a part differs from the plan under a turn and move."""
    where, name = f"page {measured.page}, {measured.plate}", f"{planned.name} ({planned.line})"
    if not _same_shape(planned, measured):
        has, should = _shape(measured), _shape(planned)
        yield Problem(where, f"{name} is {has}, not {should}")
        return
    off = _off(planned, _begun_alike(planned, measured, motion), motion)
    if off > TOLERANCE:
        turned_over = planned.closed and signed_area(planned.points) * signed_area(measured.plate_points) < 0
        mirrored = " and runs the other way round, mirrored" if turned_over else ""
        yield Problem(where, f"{name} is {off:.4f} mm from the plan{mirrored}")


def _shape(part: Part | MeasuredPart) -> str:
    kind = "a closed outline" if part.closed else "an open line"
    return f"{kind} of {len(part.points)} points"


def _same_shape(planned: Part, measured: MeasuredPart) -> bool:
    return planned.closed == measured.closed and len(planned.points) == len(measured.plate_points)


def best_motion(pairs: Sequence[Pair]) -> tuple[Matrix, float]:
    """The one turn and move that takes the plan on to what was measured, and the largest distance left, mm.

    A closed outline may begin at any corner, so which corner is which is tried on the largest part and follows
    from it for the others; of several that will do, as all four of a square will, the one it is drawn from. Parts of
    another shape leave an infinite distance.
    """
    alike = [pair for pair in pairs if _same_shape(*pair)]
    if not alike:
        return Matrix(), math.inf
    largest, drawn = max(alike, key=lambda pair: math.hypot(*pair[0].box.size))
    tried = []
    for begun in _beginnings(drawn):
        motion, off = _settled(alike, _fitted(largest.points, begun))
        tried.append((off, motion))
        if off <= TOLERANCE:
            break
    off, motion = min(tried, key=lambda entry: entry[0])
    return motion, off if len(alike) == len(pairs) else math.inf


def _settled(pairs: Sequence[Pair], rough: Matrix) -> tuple[Matrix, float]:
    """The motion that fits all parts best, near a rough one."""
    begun = [_begun_alike(part, measured, rough) for part, measured in pairs]
    points = [point for part, _ in pairs for point in part.points]
    motion = _fitted(points, [point for outline in begun for point in outline])
    return motion, max(_off(part, outline, motion) for (part, _), outline in zip(pairs, begun, strict=True))


def _beginnings(part: MeasuredPart) -> list[Outline]:
    """The measured points begun at each corner in turn; an open line has but one beginning."""
    points = part.plate_points
    return [points[i:] + points[:i] for i in range(len(points) if part.closed else 1)]


def _begun_alike(planned: Part, measured: MeasuredPart, motion: Matrix) -> Outline:
    """The measured points begun at the corner where the plan begins."""
    if not measured.closed or _off(planned, measured.plate_points, motion) <= TOLERANCE:  # as drawn: nearly always
        return measured.plate_points
    return min(_beginnings(measured), key=lambda points: _off(planned, points, motion))


def _off(planned: Part, points: Outline, motion: Matrix) -> float:
    return max(map(math.dist, map(motion.at, planned.points), points))


def _fitted(plan: Sequence[Point], measured: Sequence[Point]) -> Matrix:
    """Turn and move that leave the least sum of squares; a reflection is not among them.

    In the plane the best turn follows from two sums over the points about their means: those along (the dot
    products) and those across (the cross products) are its cosine and sine (Kabsch 1976, for two dimensions).
    """
    (px, py), (mx, my) = _mean(plan), _mean(measured)
    about = [(x - px, y - py, u - mx, v - my) for (x, y), (u, v) in zip(plan, measured, strict=True)]
    along = math.fsum(x * u + y * v for x, y, u, v in about)
    across = math.fsum(x * v - y * u for x, y, u, v in about)
    length = math.hypot(along, across)
    cos, sin = (along / length, across / length) if length > 0 else (1.0, 0.0)
    turn = Matrix(cos, sin, -sin, cos)
    return Matrix.move(mx, my).after(turn).after(Matrix.move(-px, -py))


def _mean(points: Sequence[Point]) -> Point:
    xs, ys = zip(*points, strict=True)
    return math.fsum(xs) / len(points), math.fsum(ys) / len(points)
