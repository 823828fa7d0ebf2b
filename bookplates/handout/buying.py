"""What a shopping list holds beside paper and board: tools, the needle, adhesive; and how its lines read."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import groupby

from bookplates.book.record import Plan
from bookplates.handout.steps import SPACER_TAPE, steps
from bookplates.handout.stock_words import long, sheet_size, side
from bookplates.handout.tools import needed
from bookplates.kinds.step import Step
from bookplates.lengths import Units, both, both_sizes, counted, fits, in_mm, roll_length, told
from bookplates.workshop.shopping import Line, shopping
from bookplates.workshop.table import Table

EACH = ("a pencil", "a bone folder", "an awl with a cork", "a blunt needle that the thread just goes into", "two clips")
ROOM = (
    "weights",
    "a hand drill",
    "clean waste paper",
    "adhesive tape",
    "card for ",
    "heavy paper",
    "beeswax",
    "pliers",
)
"""Which tools every student has, and which there are for the whole room: common practice, no source. Two share the others."""

AT_HAND = ("a sharps tin for used blades", "spare blades", "a first aid kit")
"""What the safety sheet asks for that no step speaks of."""

LEFT_OUT = ("adhesive", "an offcut of board", "scraps of card")
"""What is noted by itself, or is left over from other work."""

NEEDLES = ((0.4, 0.7), (0.55, 0.9), (0.7, 1.1), (0.9, 1.3), (1.2, 1.6))
"""Thread up to so thick, and the thickness of a needle whose eye it just passes, mm: common practice, no source."""


def shopping_list(plan: Plan, table: Table) -> tuple[Line, ...]:
    """All there is to buy or have ready: materials, adhesive as a note without amounts, and tools."""
    work = steps(plan)[2:]  # what comes before them only says what to have ready
    return (*_materials(plan, table), *_adhesive(work), *_tools(plan, table, work))


def _materials(plan: Plan, table: Table) -> Iterator[Line]:
    """What the plan has as pieces, and the tape that only the spacers take, among all tape."""
    for material, lines in groupby(shopping(table), key=lambda line: line.material):
        yield from lines
        if material == "tape" and plan.tape:
            more = f"And {told(SPACER_TAPE, plan.units)} more for each set of spacers: its backing paper covers them."
            yield Line("note", material, more)


# ---- tools


def _tools(plan: Plan, table: Table, work: Iterable[Step]) -> Iterator[Line]:
    for group in needed(plan, tuple(work)):
        for tool in group:
            if not tool.startswith(LEFT_OUT) or tool == "adhesive tape":
                yield _tool(plan, table, tool)
    share = "room" if table.books > 1 else ""
    yield from (Line("tool", "", name, needed=1, to_buy=1, share=share) for name in AT_HAND)


def _tool(plan: Plan, table: Table, tool: str) -> Line:
    share = _share(tool, table.books)
    count = _count(tool, share, table) * (2 if tool.startswith("two ") else 1)
    name = f"{tool}: {needle(plan.sewing.thread)}" if tool.startswith("a blunt needle") else tool.removeprefix("two ")
    return Line("tool", "", name, needed=count, to_buy=count, share=share)


def _share(tool: str, books: int) -> str:
    if books == 1:
        return ""
    if tool.startswith(EACH):
        return "each"
    return "room" if tool.startswith(ROOM) else "two"


def _count(tool: str, share: str, table: Table) -> int:
    """Needles are lost and bent: there is one for each spare book, too."""
    if share in ("each", ""):
        return table.books + (table.spare if "needle" in tool else 0)
    return math.ceil(table.books / 2) if share == "two" else 1


def needle(thread: float) -> str:
    """Which needle goes with a thread so thick, mm.

    >>> needle(0.6)
    'about 1.1 mm thick for thread of 0.6 mm'
    """
    thick = next((wide for most, wide in NEEDLES if fits(thread, most)), thread + 0.4)
    return f"about {in_mm(thick)} thick for thread of {in_mm(thread)}"


# ---- adhesive

STUCK = {
    "gauges": "guides on card",
    "spacers": "backing paper on the spacers",
    "fold strips": "the fold guide on card",
    "glue covering": "coverings on boards",
    "hinge boards": "coverings on boards",
    "hinge inside": "inner strips over the hinges",
    "turn-in strips": "turn-in strips on boards",
    "turn in": "turn-ins",
    "line boards": "linings on boards",
    "tip endpapers": "endpapers along the spine",
    "lay out case": "coverings on boards",
    "cloth spine": "spine cloth on boards",
    "corners": "cloth corners on boards",
    "side papers": "side papers on boards",
    "turn in case": "turn-ins",
    "glue spine": "the spine of the book",
    "super": "the super on the spine",
    "case in": "endpapers on boards",
    "join strips": "tabs of the strips",
    "paste ends": "the end panels on boards",
}
"""What the adhesive of a step sticks, by the step's picture."""


def _adhesive(work: Iterable[Step]) -> Iterator[Line]:
    said = ((step, f"{' '.join(step.sentences)} {step.caution}".lower()) for step in work)
    sticking = [step for step, words in said if "adhesive" in words or "glue" in words]
    uses = list(dict.fromkeys(STUCK[step.picture] for step in sticking if step.picture in STUCK))
    if not uses:
        return
    listed = " and ".join(filter(None, (", ".join(uses[:-1]), uses[-1])))
    yield Line("note", "", f"Adhesive that dries clear and suits paper and board, for: {listed}.")
    yield Line("note", "", "Buy no spray. Ask for the maker's safety sheet with it, and keep that in the room.")
    yield Line("note", "", "Try it on offcuts of the very papers first: some papers stretch, stain or curl.")


# ---- how it reads


def amount(line: Line, units: Units) -> str:
    """How much of it there has to be, and how much of that is to be bought."""
    if line.what in ("sheets", "rolls"):
        return f"{_off_rolls(line, units)}{_on_hand(line)}."
    if line.what == "length":
        return f"{_lengths(line, units)}{_unfit(line)}"
    if line.what == "pieces":
        size = both_sizes(line.size or (0.0, 0.0), units)
        together = " altogether" if line.needed > 1 else ""
        return f"{line.needed} × {size}{_grain(line)}; {area(line.area)}{together}.{_unfit(line)}"
    return _shared(line) if line.what == "tool" else ""


def _lengths(line: Line, units: Units) -> str:
    """Lengths without a roll; of thread what the steps cut."""
    length = line.size.height if line.size else 0.0
    each = side(length, units) if line.material == "thread" else both(length, units)
    if line.needed == 1:
        return f"{each}, and a little for the cut."
    return f"{long(line.length or 0.0, units)} altogether: {line.needed} × {each}, and a little for each cut."


def _on_hand(line: Line) -> str:
    have = counted(line.needed, line.what.removesuffix("s"))
    if line.on_hand is None:
        return have
    return f"{have}; {line.on_hand} on hand: {f'buy {line.to_buy}' if line.to_buy else 'enough'}"


def _off_rolls(line: Line, units: Units) -> str:
    """How much comes off rolls."""
    if not line.lengths:
        return ""
    lengths = counted(line.lengths, "length")
    return f"{long(line.taken, units)} in {lengths}: "


def _unfit(line: Line) -> str:
    return f" It goes on none of the {line.material} in the spec: see what fit says." if line.unfit else ""


def _shared(line: Line) -> str:
    if line.share == "room":
        return "for the room"
    shared = {"each": ": everybody has their own", "two": ": two people share"}.get(line.share, "")
    return f"{line.needed}{shared if line.needed > 1 else ''}"


def in_words(line: Line, units: Units) -> str:
    """How large it is, how much of it there has to be, and what that costs, on one line."""
    size = stock_size(line, units)
    return " ".join(filter(None, (f"{size}:" if size else "", amount(line, units), cost(line))))


def _grain(line: Line) -> str:
    return "" if line.grain == "none" else f", grain {line.grain}"


def stock_size(line: Line, units: Units) -> str:
    """How large a sheet is, how long a roll, or how wide tape without a roll."""
    if line.what == "sheets" and line.size:
        grain = {"long": ", grain along its long side", "short": ", grain along its short side"}.get(line.grain, "")
        return f"{sheet_size(line.size, units)}{grain}"
    if line.what == "rolls" and line.length:
        return f"a roll of {roll_length(line.length, units)}"
    if line.what == "length" and line.size:
        return f"{both(line.size.width, units)} wide" if line.material == "tape" else f"{in_mm(line.size.width)} thick"
    return ""


def cost(line: Line) -> str:
    """The price as it is written, and what is to be bought of it costs where that can be reckoned."""
    if not line.price or not line.to_buy:
        return ""
    if line.each is None or line.total is None:
        return f"Price: {line.price}."
    return f"{line.each.text} each: {line.total.text} for {line.to_buy}." if line.to_buy > 1 else f"Price: {line.price}."


def no_sum(lines: Iterable[Line]) -> str:
    """Why there is no sum although something has a price; empty where nothing has."""
    bought = [line for line in lines if line.number is not None and line.to_buy]
    without = list(dict.fromkeys(line.name for line in bought if line.total is None))
    if not without or not any(line.price for line in bought):
        return ""
    *others, last = without
    named = f"{', '.join(others)} and {last} have" if others else f"{last} has"
    return f"No sum: {named} no price for one."


def area(mm2: float) -> str:
    """An area in square metres or, a small one, in square centimetres, rounded up.

    >>> area(1_234_000), area(52_310)
    ('1.24 m²', '524 cm²')
    """
    return f"{math.ceil(mm2 / 10_000 - 1e-6) / 100:g} m²" if mm2 >= 1e5 else f"{math.ceil(mm2 / 100 - 1e-6)} cm²"
