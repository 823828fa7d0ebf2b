"""Why a piece does not go on a sheet or a roll, with numbers. Lengths in mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import get_args

from bookplates.errors import Problem
from bookplates.geometry import Size
from bookplates.lengths import Units, both, both_sizes, fits, roll_length
from bookplates.spec.stock import Stock
from bookplates.workshop.cuts import Entry, MaterialCuts, RollCuts, SheetCuts
from bookplates.workshop.lying import Ways, allowed, with_grain
from bookplates.workshop.needs import Need
from bookplates.workshop.sheets import goes_on


@dataclass(frozen=True, slots=True)
class Lack:
    """Something that the stock does not give.

    Attributes:
        where: the key of the spec that it is about.
        what: a clause.
        buy: what else would do, bought.
        piece: what goes on no stock; empty where there is only too little of one.
    """

    where: str
    what: str
    buy: str
    piece: str = ""


def lacks(materials: Iterable[MaterialCuts], stock_of: Callable[[str], Sequence[Entry]], units: Units) -> Iterator[Lack]:
    """Pieces that go on no stock of their material, and stock of which there is too little.

    Args:
        materials: each with what is cut from its stock.
        stock_of: the stock of a material; of what has none nothing is lacking.
        units: which unit comes first.
    """
    for cuts in materials:
        stock = stock_of(cuts.material)
        if stock:
            yield from lack_of(cuts.without, stock, units)
            yield from (_too_few(cuts.material, one) for one in cuts.cuts if one.missing)


def _too_few(material: str, cuts: SheetCuts | RollCuts) -> Lack:
    """So many sheets or rolls are missing."""
    stock = cuts.entry.stock
    there = f"{stock.count} {'roll' if stock.on_roll else 'sheet'}{'' if stock.count == 1 else 's'} of {stock.name} on hand"
    what = f"{material}: {there}, {cuts.used} needed: {cuts.missing} missing"
    return Lack(f"stock.{cuts.entry.number}.count", what, "more of it")


def told_of(lacking: Iterable[Lack], remedy: str = "`bookplates fit` says what could be done") -> tuple[Problem, ...]:
    """What is lacking as problems, each with the same remedy."""
    return tuple(Problem(lack.where, lack.what, remedy) for lack in lacking)


def lack_of(needs: Sequence[Need], stock: Sequence[Entry], units: Units) -> Iterator[Lack]:
    """Pieces that go on no stock of theirs, those of one size told together."""
    alike: dict[tuple[Size, str], list[Need]] = {}
    for need in needs:
        alike.setdefault((_rounded(need.size), need.grain), []).append(need)
    for (size, _), group in alike.items():
        need = next(need for need in group if _rounded(need.size) == size)
        told = "; nor ".join(f"on {sheet_in_words(entry.stock, units)}: {why_not(need, entry.stock, units)}" for entry in stock)
        name = together([one.name for one in group])
        do = "do" if " and " in name else "does"
        yield Lack(_key_of(need, stock), f"{name}, {size_in_words(need, units)}, {do} not go {told}", _buy(need, stock), name)


def _key_of(need: Need, stock: Sequence[Entry]) -> str:
    """The key that says how large the first stock is."""
    entry = stock[0]
    if entry.number is None:
        return "text_block.sheet"
    narrow = entry.stock.width is not None and not fits(min(need.size), entry.stock.width)
    return f"stock.{entry.number}.{'width' if narrow else 'length' if entry.stock.on_roll else 'size'}"


def _buy(need: Need, stock: Sequence[Entry]) -> str:
    """Stock that would take it, or what else would."""
    if need.name == "panel strip" and not any(entry.number is None for entry in stock):
        return "text_block.sheet instead of leaf: strips are then cut from such sheets and joined"
    if all(entry.stock.on_roll for entry in stock):
        wide = any(entry.stock.width is not None and not fits(min(need.size), entry.stock.width) for entry in stock)
        return "a wider roll" if wide else "a longer roll"
    lying = any(_forbidden(need, entry.stock) for entry in stock)
    return "sheets whose grain or motif runs the other way, or larger ones" if lying else "larger sheets"


def size_in_words(need: Need, units: Units) -> str:
    """Both sides of a piece; of thread its length alone."""
    return both(need.size.height, units) if need.material == "thread" else both_sizes(need.size, units)


def _rounded(size: Size) -> Size:
    return Size(round(size.width, 3), round(size.height, 3))


def together(names: Sequence[str]) -> str:
    """Names of pieces in a sentence.

    >>> together(["front covering", "back covering"]), together(["tape", "inner strip"])
    ('front and back covering', 'tape and inner strip')
    """
    single = list(dict.fromkeys(names))
    lasts = {name.partition(" ")[2] for name in single if name.startswith(("front ", "back "))}
    if len(single) > 1 and len(lasts) == 1 and all(name.startswith(("front ", "back ")) for name in single):
        return f"{' and '.join(name.partition(' ')[0] for name in single)} {lasts.pop()}"
    return ", ".join(single[:-1]) + " and " + single[-1] if len(single) > 1 else single[0]


def sheet_in_words(stock: Stock, units: Units) -> str:
    """A stock by its name and its size.

    A sheet that is called by its size, as one nobody wrote may be, is not called by it twice.
    """
    if stock.size is None:
        return f"{stock.name}, {roll_length(stock.length or 0.0, units)} long"
    size = both_sizes(stock.size, units)
    return size if _called_by_size(stock.name, stock.size) else f"{stock.name}, {size}"


def _called_by_size(name: str, size: Size) -> bool:
    """Whether a name is nothing but the size, in either unit."""
    sizes = {both_sizes(size, units).partition(" (")[0] for units in get_args(Units)}
    return " × ".join(name.replace("×", "x").split(" x ")) in sizes


def why_not(need: Need, stock: Stock, units: Units) -> str:
    """Why a piece does not go on a stock; empty where it does."""
    if goes_on(need, stock):
        return ""
    if stock.size is None:
        return _off_roll(need, stock, units)
    ways = allowed(need.grain, stock)
    forbidden = _forbidden(need, stock)
    if forbidden:
        return forbidden
    lying = [turned for turned, may in ((False, ways.upright), (True, ways.turned)) if may]
    if not lying:
        return "its motif and its grain cannot both be kept: with the motif upright the grain runs the wrong way"
    turned = min(lying, key=lambda turned: _over(need, stock.size, turned))
    return _short(need, stock.size, turned, units)


def _over(need: Need, sheet: Size | None, turned: bool) -> float:
    size = need.size.turned if turned else need.size
    return sum(max(0.0, one - other) for one, other in zip(size, sheet or size, strict=True))


def _short(need: Need, sheet: Size, turned: bool, units: Units) -> str:
    """By how much it is too large as it lies."""
    size = need.size.turned if turned else need.size
    over = [
        f"{both(one - other, units)} too {word}"
        for one, other, word in zip(size, sheet, ("wide", "tall"), strict=True)
        if not fits(one, other)
    ]
    return f"{'turned, ' if turned else ''}{' and '.join(over)}"


def _forbidden(need: Need, stock: Stock) -> str:
    """Which of grain and motif forbids the way in which it would go on; empty where it goes on in no way."""
    if stock.size is None:
        return ""
    for turned, size in ((False, need.size), (True, need.size.turned)):
        if size.goes_into(stock.size):
            way = "turned" if turned else "upright"
            return f"{way} it would go on, but {_by(need, stock, turned)}"
    return ""


def _by(need: Need, stock: Stock, turned: bool) -> str:
    grain = with_grain(need.grain, stock) if not stock.against_grain else Ways(upright=True, turned=True)
    if not (grain.turned if turned else grain.upright):
        runs = "across" if need.grain == "head to tail" else "from head to tail of"
        return f"the grain of the sheet then runs {runs} it"
    return "its motif then lies on its side"


def _off_roll(need: Need, stock: Stock, units: Units) -> str:
    if stock.width is not None and not fits(min(need.size), stock.width):
        return f"{both(min(need.size) - stock.width, units)} too wide for the roll"
    return f"{both(max(need.size) - (stock.length or 0.0), units)} longer than the roll"
