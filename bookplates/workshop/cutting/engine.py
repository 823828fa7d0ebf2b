"""The fewest sheets for so many pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bookplates.geometry import Size
from bookplates.workshop.cutting import bounds
from bookplates.workshop.cutting.choose import Sheets, chosen
from bookplates.workshop.cutting.job import Job, job
from bookplates.workshop.cutting.plans import plans
from bookplates.workshop.cutting.tree import CutSheet, Node, Want, puts
from bookplates.workshop.cutting.trees import Pieces, real


def cut_up(wants: Sequence[Want], sheet: Size, blade: float = 0.0, usable: float = 30.0) -> tuple[CutSheet, ...]:
    """Cut pieces out of as few like sheets as can be found; then with few stop settings; then with large offcuts.

    Args:
        wants: what is to come out; each goes on the sheet in one of the ways it may lie.
        sheet: width and height of a sheet.
        blade: what a cut takes away.
        usable: least side of an offcut worth keeping.

    Returns:
        The ways to cut, each with how many sheets are cut so; those that most are cut by come first.

    Raises:
        ValueError: a want goes on the sheet in none of the ways it may lie.
    """
    task = job(wants, sheet, blade, usable)
    if not task.kinds:
        return ()
    pieces = Pieces(task, wants, blade)
    made = [cut for like in chosen(task, plans(task)) for cut in _cut(task, like, sheet, blade, pieces)]
    return tuple(sorted(made, key=lambda cut: -cut.times))


def bound(wants: Sequence[Want], sheet: Size, blade: float = 0.0) -> int:
    """The fewest sheets that could ever be enough, whatever the cuts: by area, and by what cannot lie side by side.

    Raises:
        ValueError: a want goes on the sheet in none of the ways it may lie.
    """
    return bounds.fewest(job(wants, sheet, blade, 0.0))


def _cut(task: Job, like: Sheets, sheet: Size, blade: float, pieces: Pieces) -> Iterator[CutSheet]:
    """The cuts of like sheets; where a kind stands for several wants, they may yet differ in which come out."""
    if all(len(task.kinds[laid.kind].wants) == 1 for laid in like.layout):
        yield CutSheet(real(like.tree, sheet, blade, pieces), like.times)
        return
    node: Node | None = None
    alike = 0
    for _ in range(like.times):
        new = real(like.tree, sheet, blade, pieces)
        if node is not None and puts(new) != puts(node):
            yield CutSheet(node, alike)
            alike = 0
        node, alike = new, alike + 1
    if node is not None:
        yield CutSheet(node, alike)
