"""Which way a piece may lie on a sheet: its grain and the motif decide. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from bookplates.geometry import Size
from bookplates.kinds.parts import Grain
from bookplates.lengths import fits
from bookplates.spec.stock import Stock


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways in which a piece may lie on a sheet: upright as the sheet's size is written, or turned by a quarter."""

    upright: bool
    turned: bool

    def __bool__(self) -> bool:
        """Whether there is any."""
        return self.upright or self.turned


def with_grain(grain: Grain, stock: Stock) -> Ways:
    """The ways in which a piece lies with the grain of the sheet; both where one of them has none."""
    if stock.size is None or grain == "none" or stock.grain == "none":
        return Ways(upright=True, turned=True)
    along_height = grain_stands(stock.size, stock.grain == "long") == (grain == "head to tail")
    return Ways(upright=along_height, turned=not along_height)


def grain_stands(sheet: Size, long: bool) -> bool:
    """Whether the grain runs along the sheet's height as its size is written; of a square sheet the height is the long side."""
    return (sheet.height >= sheet.width) == long


def allowed(grain: Grain, stock: Stock) -> Ways:
    """The ways that grain and motif allow: a motif that has a top, or may stand on its head, never lies on its side."""
    ways = Ways(upright=True, turned=True) if stock.against_grain else with_grain(grain, stock)
    return ways if stock.pattern == "none" else Ways(ways.upright, turned=False)


def fitting(size: Size, grain: Grain, stock: Stock) -> Ways:
    """The ways that are allowed and in which it goes on the sheet."""
    ways = allowed(grain, stock)
    if stock.size is None:
        return Ways(upright=False, turned=False)
    return Ways(
        ways.upright and size.goes_into(stock.size),
        ways.turned and size.turned.goes_into(stock.size),
    )


def along_roll(size: Size, width: float | None) -> float | None:
    """How much of a roll so wide a piece takes, mm: its longer side lies along the roll; None where it is too wide for it."""
    return max(size) if width is None or fits(min(size), width) else None
