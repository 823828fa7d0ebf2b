"""The steps from sheets to pressed leaves, for all ways in which leaves hang together."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from bookplates.book.record import Plan, TextBlock
from bookplates.kinds.cautions import KNIFE, KNIFE_AGAIN, WEIGHT
from bookplates.kinds.step import Step
from bookplates.lengths import both_sizes, close, told

OPEN = "Open the folded sheets, the folios, and set one inside the other"
GRAIN = "Find the grain of the paper first: bend it lightly both ways, it bends most easily along it."


def fold(plan: Plan) -> Iterator[Step]:
    """Sheets cut and folded to leaves; a concertina has steps of its own."""
    block = plan.text_block
    tall = _cut_height(block)
    leaf = both_sizes((block.leaf_width, tall), plan.units)
    if block.gathered == "panels":
        return
    if block.gathered == "single leaves":
        yield Step("Cut the leaves", (GRAIN, f"Cut {block.leaves} leaves, {leaf}."), KNIFE, "fold")
        return
    where = "the spine side" if block.gathered == "nested" else "the fore-edge; the open edges go to the spine"
    yield Step(
        "Cut and fold the text paper",
        (
            *_division(plan),
            f"Fold each piece in half with the bone folder, to a leaf {leaf}.",
            f"The fold is {told(tall, plan.units)} long: it is {where}.",
        ),
        KNIFE,
        "fold",
    )


def _cut_height(block: TextBlock) -> float:
    """Of a leaf as its paper is cut, whatever a ruler found later, mm."""
    return block.leaf_height if block.cut_height is None else block.cut_height


def _division(plan: Plan) -> tuple[str, ...]:
    """How the sheets become folios."""
    block = plan.text_block
    tall = _cut_height(block)
    spread = both_sizes((2 * block.leaf_width, tall), plan.units)
    if block.sheet is None or not block.sheets:
        along = tall if block.grain == "head to tail" else 2 * block.leaf_width
        return GRAIN, f"Cut {block.folios} pieces {spread}, the grain along the side of {told(along, plan.units)}."
    paper = both_sizes(block.sheet, plan.units)
    each = block.folios // block.sheets
    take = f"Take {block.sheets} sheets of text paper, {paper}."
    if each == 1:
        return *_sheet_grain(plan), f"{take} They are folded as they are."
    return (
        *_sheet_grain(plan),
        take,
        f"Cut each into {each} equal pieces, {spread}: {block.folios} pieces in all.",
    )


def _sheet_grain(plan: Plan) -> tuple[str, ...]:
    """Along which side of the sheet as bought the grain has to run."""
    block = plan.text_block
    if block.sheet is None or block.sheet_grain is None or close(*block.sheet):
        return ()
    side = max(block.sheet) if block.sheet_grain == "long" else min(block.sheet)
    return GRAIN, f"It must run along the sides that are {told(side, plan.units)} long."


def nest(plan: Plan) -> Iterator[Step]:
    """Folios nested in sections, or leaves stacked; pressed."""
    block = plan.text_block
    several = block.sections > 1
    if block.gathered != "nested":
        yield Step("Stack and press", (*_stacked(plan), _pressed(several=False)), WEIGHT, "nest")
        return
    number = ("Number the sections lightly inside, 1 at the front. Keep them in this order.",) if several else ()
    yield Step(
        "Nest and press",
        (
            *_nested(block),
            *number,
            f"Choose which end is the head, and mark it lightly inside{' each section' if several else ''}.",
            *_marks_of_lots(plan),
            f"Knock {'each section' if several else 'the section'} up to the head.",
            _pressed(several=several),
        ),
        WEIGHT,
        "nest",
    )


def _marks_of_lots(plan: Plan) -> tuple[str, ...]:
    """A section that is pierced in lots is marked in the middle of each."""
    several = any(len(lots) > 1 for lots in plan.sewing.punching)
    return ("Mark the innermost sheet of each lot, too, that will be pierced by itself.",) if several else ()


def _stacked(plan: Plan) -> tuple[str, ...]:
    edges = "the open edges to the spine" if plan.text_block.gathered == "fore-edge folded" else "the first page up"
    return (
        f"Lay the leaves on each other in their order, heads together, {edges}.",
        "Mark the head and the spine edge lightly on the top leaf.",
        "Knock the stack up to the spine edge and to the head.",
    )


def _pressed(*, several: bool) -> str:
    return f"Press {'them' if several else 'it'} overnight between boards under a weight."


def _nested(block: TextBlock) -> tuple[str, ...]:
    """How many folios go to a section."""
    if block.sections == 1:
        return (f"Open the {block.folios} folded sheets, the folios, and set one inside the other, all into one section.",)
    if max(block.folios_per_section) == 1:
        return (f"Each folded sheet, each folio, is a section by itself: {block.sections} sections.",)
    runs = [(size, len(list(same))) for size, same in groupby(block.folios_per_section)]
    if len(runs) == 1:
        return (f"{OPEN}, {runs[0][0]} to a section: {block.sections} sections.",)
    shares = [f"{count} section{'s' if count > 1 else ''} of {size}" for size, count in runs]
    return (f"{OPEN}: first {', then '.join(shares)}.",)


def trim(plan: Plan) -> Iterator[Step]:
    """The fore-edge cut even, where anything comes off."""
    block = plan.text_block
    if block.fore_edge_trim < 0.05:
        return
    edge = "fold" if block.gathered == "nested" else "spine edge"
    inner = (
        (f"The inner leaves stand out at the fore-edge, the innermost by {told(block.creep, plan.units)}.",)
        if block.creep >= 0.05
        else ()
    )
    taken = "innermost leaf" if inner else "leaves"
    yield Step(
        "Trim the fore-edge",
        (
            *(("Trim each section by itself.",) if block.sections > 1 else ()),
            *inner,
            f"Mark {told(block.block_width, plan.units)} from the {edge}, at head and tail.",
            "Clamp it down with the metal rule along these marks. Cut with many light strokes.",
            f"That takes {told(block.fore_edge_trim, plan.units)} off the {taken}.",
        ),
        f"{KNIFE_AGAIN} In a class an adult cuts, or someone trained on a guillotine.",
        "trim",
    )


def measure(plan: Plan) -> Iterator[Step]:
    """The ruler has the last word."""
    block = plan.text_block
    what = "text block" if block.sections > 1 or block.gathered != "nested" else "section"
    flat = "Lay a board on it and press it down with your hand while you measure the thickness."
    yield Step(
        "Measure",
        (
            f"Measure the width, height and thickness of the pressed {what}.",
            *((flat,) if what == "text block" else ()),
            *_not_sewn_yet(plan),
            "Write them on the sizes page.",
            "Does one differ from the plan by more than 0.5 mm?",
            "Then write all three under [measured] in the spec, the file that describes the book.",
            "Then print the pack again, before any board or card is cut.",
        ),
        picture="measure",
    )


def _not_sewn_yet(plan: Plan) -> tuple[str, ...]:
    """The thread that will lie in the folds, where the block is measured before it is sewn."""
    order, sections = list(plan.work), plan.text_block.sections
    if sections < 2 or "sew" not in order or order.index("sew") < order.index("measure"):
        return ()
    swell = told(sections * plan.sewing.thread, plan.units)
    return (f"The sections are not sewn yet: add {swell} to the thickness, for the thread in their folds.",)
