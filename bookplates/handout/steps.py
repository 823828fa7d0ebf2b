"""From sheets to a finished book, step by step, with this book's own sizes.

Which steps there are follows from the templates and pieces of the plan: a step never speaks of a plate
that the pack does not hold. What has to do with making the cover stands in `cover_steps`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bookplates.book.lots import in_words
from bookplates.book.record import Plan
from bookplates.handout.cautions import AWL, AWL_AGAIN, KNIFE, KNIFE_AGAIN, NEEDLE, WEIGHT
from bookplates.handout.cover_steps import boards, coverings, gauges, linings, tape
from bookplates.handout.step import Step, has
from bookplates.lengths import both_sizes, in_mm, told

__all__ = ["Step", "steps"]


def steps(plan: Plan) -> tuple[Step, ...]:
    """The whole work, in order."""
    return tuple(step for stage in STAGES for step in stage(plan))


def _check(_: Plan) -> Iterator[Step]:
    yield Step(
        "Check the print, and read on",
        (
            'Print at 100 % ("actual size").',
            "When the print is cool and dry, lay a steel ruler on both bars of the scale page.",
            "Each must be 100 mm long. Go on only when they are.",
            "Words that are new to you stand on the sizes page, under Words.",
        ),
    )


TOOLS = (
    "Knife, cutting mat, metal safety rule, steel ruler, pencil.",
    "Awl with a cork, cradle or block of foam, bone folder (a smooth flat blade to crease and rub with).",
    "A blunt needle that the thread just goes into, beeswax, scissors, two clips, pliers.",
    "Adhesive and brush, clean waste paper, two pressing boards, weights.",
    "Card for the gauges, heavy paper for the guides.",
)


def _have_ready(_: Plan) -> Iterator[Step]:
    yield Step("Have ready", ('The materials under "Cut for one book" on the sizes page, and thread.', *TOOLS))


GRAIN = "Find the grain first (the way the fibres lie: the paper bends most easily along it)."


def _fold(plan: Plan) -> Iterator[Step]:
    block = plan.text_block
    leaf = both_sizes((block.leaf_width, block.leaf_height), plan.units)
    long = told(block.leaf_height, plan.units)
    yield Step(
        "Cut and fold the text paper",
        (
            *_division(plan),
            f"Fold each piece in half with the bone folder, to a leaf {leaf}.",
            f"The fold is {long} long: it is the spine side.",
        ),
        KNIFE,
    )


def _division(plan: Plan) -> tuple[str, ...]:
    """How the sheets become folios."""
    block = plan.text_block
    spread = both_sizes((2 * block.leaf_width, block.leaf_height), plan.units)
    if block.sheet is None or not block.sheets:
        along = block.leaf_height if block.grain == "head to tail" else 2 * block.leaf_width
        return GRAIN, f"Cut {block.folios} pieces {spread}, the grain along the side of {told(along, plan.units)}."
    paper = both_sizes(block.sheet, plan.units)
    each = block.folios // block.sheets
    if each == 1:
        return (f"Take {block.sheets} sheets of text paper, {paper}. They are folded as they are.",)
    return (
        f"Take {block.sheets} sheets of text paper, {paper}.",
        f"Cut each into {each} equal pieces, {spread}: {block.folios} pieces in all.",
    )


def _nest(plan: Plan) -> Iterator[Step]:
    block = plan.text_block
    if block.sections == 1:
        nest = f"Open the {block.folios} folded sheets (folios) and set one inside the other, all into one section."
    else:
        nest = f"Set the folded sheets (folios) one inside the other, {block.folios_per_section[0]} to a section."
    yield Step(
        "Nest and press",
        (
            nest,
            "Choose which end is the head (the top), and mark it lightly inside.",
            "Knock the section up to the head: tap that edge on the table until all sheets are level.",
            "Press it overnight between boards under a weight.",
        ),
        WEIGHT,
    )


def _trim(plan: Plan) -> Iterator[Step]:
    block = plan.text_block
    if block.fore_edge_trim < 0.05:
        return
    yield Step(
        "Trim the fore-edge",
        (
            "The fore-edge is the edge opposite the fold.",
            f"The inner leaves stand out there, the innermost by {told(block.creep, plan.units)}.",
            f"Mark {told(block.block_width, plan.units)} from the fold, at head and tail.",
            f"Cut along these marks. That takes {told(block.fore_edge_trim, plan.units)} off the innermost leaf.",
        ),
        f"{KNIFE_AGAIN} In a class an adult cuts, or someone trained on a guillotine.",
    )


def _measure(_: Plan) -> Iterator[Step]:
    yield Step(
        "Measure",
        (
            "Measure the width, height and thickness of the pressed section.",
            "Write them on the sizes page.",
            "Does one differ from the plan? Then write all three under [measured] in the spec (the file that describes it).",
            "Print the pack again before any board is cut.",
        ),
    )


def _pierce(plan: Plan) -> Iterator[Step]:
    if not has(plan, "punch guide"):
        return
    lots = plan.sewing.punching[0]
    several = len(lots) > 1
    into = f"{'lots of ' if len(lots) < 4 else ''}{in_words(lots)}"
    apart = f"Take the section apart into {into} folded sheets." if several else ""
    again = "Do the same with each lot, the guide the same way up. Then nest the lots again." if several else ""
    what = "a lot" if several else "the section"
    yield Step(
        "Pierce the section",
        (
            "Cut out the punch guide, and fold it as a valley (towards you), printed side up.",
            *filter(None, (apart,)),
            f"Open {what} in the middle, and hold it in the cradle.",
            "Lay the guide in the innermost fold, HEAD to the head, and knock both up to the head.",
            "Pierce every station (place for the needle), down and out along the fold, no wider than the needle.",
            *filter(None, (again,)),
        ),
        f"{AWL} {KNIFE_AGAIN}",
    )


def _pierce_cover(plan: Plan) -> Iterator[Step]:
    if has(plan, "cover punch guide"):
        yield Step(
            "Pierce the cover",
            (
                "Lay the cover open, inside up, the groove between the boards over the foam.",
                "Drop the cover punch guide into the groove, HEAD to the head, its ends level with the boards.",
                "Pierce every station straight down.",
            ),
            AWL_AGAIN,
        )


def _ready_to_sew(plan: Plan) -> Iterator[Step]:
    sewing = plan.sewing
    yield Step(
        "Get ready to sew",
        (
            f"Cut {told(sewing.thread_to_cut, plan.units)} of thread, {in_mm(sewing.thread)} thick.",
            f"That is {told(sewing.thread_length, plan.units)} as computed, and a quarter more for a learner.",
            "Draw it over the beeswax, unless it is waxed already.",
            "Thread the needle. Make no knot.",
            *_laid_in(plan),
            f"Station 1 is nearest to the head. Inside means in the middle fold, outside means on the spine{_of_what(plan)}.",
            "Never pierce a thread that is already in a hole.",
        ),
    )


def _laid_in(plan: Plan) -> tuple[str, ...]:
    """How the section lies in a cover that it is sewn through."""
    if not has(plan, "cover punch guide"):
        return ()
    return (
        "Lay the cover open, inside up. Lay the section on it, its fold in the groove, head to head.",
        f"The section begins {told(plan.cover.square_head, plan.units)} below the head of the boards: station meets station.",
        "Open the section in the middle, and hold it to the cover with two clips.",
    )


def _of_what(plan: Plan) -> str:
    return " of the cover" if has(plan, "cover punch guide") else ""


def _sew(plan: Plan) -> Iterator[Step]:
    yield Step(f"Sew: {plan.sewing.called}", tuple(step.text for step in plan.sewing.path.steps), NEEDLE)


def _press(plan: Plan) -> Iterator[Step]:
    clips = ("Take the clips off.",) if has(plan, "cover punch guide") else ()
    yield Step("Press the book", (*clips, "Close the book.", "Press it under a weight for a day."), WEIGHT)


STAGES: tuple[Callable[[Plan], Iterator[Step]], ...] = (
    _check,
    _have_ready,
    _fold,
    _nest,
    _trim,
    _measure,
    gauges,
    boards,
    coverings,
    linings,
    tape,
    _pierce,
    _pierce_cover,
    _ready_to_sew,
    _sew,
    _press,
)
