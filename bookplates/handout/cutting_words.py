"""A cutting plan in words: each cut in its order, what comes off, what is left over. Lengths in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from bookplates.geometry import Size
from bookplates.handout.stock_words import offcut_both, offcut_size, sheet_size, side
from bookplates.lengths import Units, both, both_sizes, close, counted, fits, told
from bookplates.workshop.cuts import Kind, SheetCuts
from bookplates.workshop.cutting.order import Part, Step, parts, steps
from bookplates.workshop.cutting.tree import Cut, CutSheet, Node, Offcut, Put, offcuts, puts
from bookplates.workshop.lying import grain_stands


@dataclass(frozen=True, slots=True)
class Setting:
    """Cuts that are made with the stop in one place.

    Attributes:
        title: how the stop stands, and which way the cut runs.
        rows: numbers of cuts that are alike, and what they make.
    """

    title: str
    rows: tuple[tuple[str, str], ...]


def letters_of(number: int) -> str:
    """The letter of the pieces of a kind, by its place among the kinds of a sheet.

    >>> letters_of(0), letters_of(27)
    ('A', 'B2')
    """
    turn, letter = divmod(number, 26)
    return "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[letter] + (str(turn + 1) if turn else "")


def base_name(kind: Kind) -> str:
    """What pieces are called, without whose they are; what two names end in is said once."""
    name = kind.name.partition(" (")[0]
    parted = [one.partition(" ") for one in name.split(" or ")]
    lasts = {last for _, _, last in parted}
    return f"{' or '.join(first for first, _, _ in parted)} {lasts.pop()}" if len(parted) > len(lasts) == 1 else name


def for_whom(kind: Kind) -> str:
    """Whose pieces they are, where they are not everybody's.

    The numbers are those of the class list.
    """
    whose = ", ".join(dict.fromkeys(need.whose for need in kind.needs if need.whose))
    return f"for student{'' if whose.isdigit() else 's'} {whose}" if whose else ""


# ---- before the first cut

DIAGRAM = "This is a diagram, not to scale: work by the measurements."
HOW = (
    "Every cut goes right through the part in hand, from edge to edge. The stop of an upright cut is measured from the left edge "
    "of the part, the stop of a cut across from its foot. Keep each part the way up it lay on the sheet, and write its number on "
    "it as it comes off."
)


def intro(cuts: SheetCuts, way: CutSheet, units: Units) -> tuple[str, ...]:
    """How many sheets are cut so, how the sheet lies, how the stop is read, and what cutting takes away."""
    size, alike = sheet_size(cuts.size, units), ", all alike" if way.times > 1 else ""
    motif = "" if cuts.entry.stock.pattern == "none" else " The motif stands upright."
    if not isinstance(way.tree, Cut):
        return (f"Take {counted(way.times, 'sheet')} of {size}. {_uncut(cuts, way)}",)
    across, up = (side(one, units) for one in cuts.size)
    return (
        f"Cut {counted(way.times, 'sheet')} of {size} as drawn{alike}. {DIAGRAM}",
        f"Lay the sheet down as drawn: {across} across, {up} up.{_grain(cuts)}{motif}",
        HOW,
        _blade(cuts.blade, units),
    )


def _uncut(cuts: SheetCuts, way: CutSheet) -> str:
    name = base_name(cuts.kinds[way.tree.want]) if isinstance(way.tree, Put) else "piece"
    return f"{'They are' if way.times > 1 else 'It is'} not cut: each is one {name} as it is."


def _grain(cuts: SheetCuts) -> str:
    if cuts.entry.stock.grain == "none":
        return ""
    stands = grain_stands(cuts.size, cuts.entry.stock.grain == "long")
    return f" Its grain runs {'up and down' if stands else 'from side to side'}."


def _blade(blade: float, units: Units) -> str:
    if blade < 0.005:
        return "Nothing is reckoned for what the blade takes away."
    return f"Each cut takes {both(blade, units)} away, on the far side of the stop: that is reckoned in."


# ---- cut by cut


def settings(cuts: SheetCuts, way: CutSheet, units: Units, usable: float) -> tuple[Setting, ...]:
    """The cuts in the order in which to make them, those of one stop under one title.

    Args:
        cuts: the stock, and what comes out of it.
        way: how the sheet is cut.
        units: which unit comes first.
        usable: least side of an offcut that is worth keeping.
    """
    done, made = steps(way.tree, cuts.blade), parts(way.tree, cuts.blade)
    words = _Words(cuts, made, usable, units)
    found = []
    for _, alike in groupby(done, key=lambda step: step.setting):
        own = list(alike)
        way_of = "cut upright" if own[0].upright else "cut across"
        rows = tuple(words.row(chain) for chain in _chains(own, made))
        found.append(Setting(f"Stop at {both(own[0].stop, units)}, {way_of}", rows))
    return tuple(found)


def _chains(done: Sequence[Step], made: Sequence[Part]) -> Iterator[list[Step]]:
    """Cuts that follow each other through what is left of one part, and take pieces or strips of one size off it."""
    chain: list[Step] = []
    for step in done:
        if chain and (step.part != chain[-1].rest or not _alike(made[step.first].node, made[chain[-1].first].node)):
            yield chain
            chain = []
        chain.append(step)
    if chain:
        yield chain


def _alike(one: Node, other: Node) -> bool:
    """Whether both are finished pieces of one kind, lying the same way, or strips of one size."""
    if isinstance(one, Cut) and isinstance(other, Cut):
        return all(close(a, b) for a, b in zip(one.size, other.size, strict=True))
    return isinstance(one, Put) and isinstance(other, Put) and (one.want, one.turned) == (other.want, other.turned)


class _Words:
    """What becomes of the parts of a sheet, in words: a part is numbered as it comes off, if it is to be cut further."""

    def __init__(self, cuts: SheetCuts, made: Sequence[Part], usable: float, units: Units) -> None:
        self._cuts, self._made, self._usable, self._units = cuts, made, usable, units
        self._called = {0: "the sheet"}

    def row(self, chain: Sequence[Step]) -> tuple[str, str]:
        """The numbers of cuts that are alike, and what they make."""
        first, last = chain[0], chain[-1]
        numbers = f"{first.number}" if len(chain) == 1 else f"{first.number}-{last.number}"
        made = self._all([step.first for step in chain])
        rest = "nothing is left" if last.rest is None else f"what is left is {self._of(last.rest)}"
        return numbers, f"From {self._called[first.part]}: {made}; {rest}."

    def _all(self, numbers: Sequence[int]) -> str:
        """What parts that are alike are: pieces of one kind, or strips, which have numbers of their own."""
        after = ", one after the other" if len(numbers) > 1 else ""
        node = self._made[numbers[0]].node
        if isinstance(node, Put):
            return f"{self._pieces(len(numbers), node)}{after}"
        if isinstance(node, Offcut):
            return self._of(numbers[0])
        *others, last = (self._number(number) for number in numbers)
        return f"{len(numbers)} strips{after}: parts {', '.join(others)} and {last}" if others else f"a strip, part {last}"

    def _of(self, number: int) -> str:
        """What a part is."""
        node = self._made[number].node
        if isinstance(node, Put):
            return self._pieces(1, node)
        return f"part {self._number(number)}" if isinstance(node, Cut) else f"an offcut, {self._offcut(node.size)}"

    def _pieces(self, count: int, put: Put) -> str:
        name = base_name(self._cuts.kinds[put.want])
        named = f"{count} × {name}" if " or " in name else counted(count, name)
        return f"{named} ({letters_of(put.want)})"

    def _number(self, number: int) -> str:
        """The number that is written on a part: they follow each other, whatever came off in between."""
        self._called[number] = f"part {len(self._called)}"
        return self._called[number].removeprefix("part ")

    def _offcut(self, size: Size) -> str:
        return f"{offcut_size(size, self._units)}{', to keep' if kept(size, self._usable) else ''}"


def kept(size: Size, usable: float) -> bool:
    """Whether an offcut is worth keeping."""
    return fits(usable, min(size))


# ---- what there is afterwards


def pieces(cuts: SheetCuts, way: CutSheet, units: Units) -> tuple[tuple[str, str, str], ...]:
    """Letter, name with size and whose it is, and how many of each come out."""
    inside = Counter(put.want for put in puts(way.tree))
    return tuple(
        (letters_of(want), _piece(way, want, kind, units), often(inside[want], way.times))
        for want, kind in enumerate(cuts.kinds)
        if inside[want]
    )


def _piece(way: CutSheet, want: int, kind: Kind, units: Units) -> str:
    told_of = (base_name(kind), both_sizes(kind.want.size, units), for_whom(kind), _turned(way, want))
    return ", ".join(filter(None, told_of))


def often(number: int, times: int) -> str:
    """How many of something come from a sheet, and from all that are cut alike.

    >>> often(6, 1), often(2, 41)
    ('6', '2 a sheet: 82')
    """
    return f"{number}" if times == 1 else f"{number} a sheet: {number * times}"


def _turned(way: CutSheet, want: int) -> str:
    """Which of the pieces lie on their side: so that the grain runs as it has to or, where the sheet has none, for room."""
    lying = {put.turned for put in puts(way.tree) if put.want == want}
    return {(True,): "lying on its side", (False, True): "some lying on their side"}.get(tuple(sorted(lying)), "")


def left_over(way: CutSheet, usable: float, units: Units) -> tuple[tuple[str, str, str], ...]:
    """Whether to keep it, the size of an offcut, and how many of it come out; the largest first."""
    found = sorted(offcuts(way.tree), key=lambda size: -round(size.width * size.height, 3))
    told_of = Counter(("keep" if kept(size, usable) else "scrap", offcut_both(size, units)) for size in found)
    return tuple((what, size, often(number, way.times)) for (what, size), number in told_of.items())


def after(cuts: SheetCuts, units: Units) -> tuple[str, ...]:
    """What becomes of the pieces of text paper."""
    names = {need.name for kind in cuts.kinds for need in kind.needs}
    if "folio" not in names:
        return ()
    folio = next(need for kind in cuts.kinds for need in kind.needs if need.name == "folio")
    leaf = Size(folio.size.width / 2, folio.size.height)
    return (
        f"Fold each folio in half across its {told(folio.size.width, units)} side: that makes leaves {both_sizes(leaf, units)}.",
    )


DANGERS = {
    "board": (
        "Boards are cut by an adult, or on a board shear by someone trained on it.",
        "With a knife: a fresh blade, a metal safety rule, several light strokes, the other hand behind the blade.",
    ),
    "": (
        "Knife: a fresh blade, a metal safety rule, light strokes, the other hand behind the blade.",
        "A guillotine or a shear is used only by someone trained on it.",
    ),
}


def cautions(material: str) -> str:
    """What can hurt while a material is cut."""
    words = DANGERS.get(material, DANGERS[""])
    return " ".join((*words, "Used blades go into a sharps tin. Local rules and trained people come first."))
