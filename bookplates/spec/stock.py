"""The paper on the table: what there is to cut from, and how it is cut. Lengths are mm once read."""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar, Literal, get_args

from pydantic import BeforeValidator, Field, ValidationInfo

from bookplates.geometry import Size
from bookplates.kinds.keys import INCH, Keys, Named, Span, fault
from bookplates.spec.tables import line_of_text

Material = Literal["board", "cover paper", "cloth", "lining paper", "text paper", "tape", "card", "thread"]
"""What books are made of, as a plan calls it, and the thread they are sewn with."""

MATERIALS: tuple[Material, ...] = get_args(Material)
ON_ROLLS: tuple[Material, ...] = ("tape", "thread")
"""What comes by the length."""

StockGrain = Literal["long", "short", "none"]
Pattern = Literal["none", "one-way", "two-way"]


def _price(value: Any, info: ValidationInfo) -> Any:
    """A price is whatever somebody writes; a bare number is kept as it is written."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return f"{value}"
    return line_of_text(value, info)


def _name(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and not value.strip():
        raise fault("is empty", "what the paper is called on the table")
    return line_of_text(value, info)


class Roll(Span):
    """Annotates a key that holds the length of what is on a roll: metres, feet and yards, too."""

    def read(self, value: Any, info: ValidationInfo) -> float:
        """The length in mm. Raises a fault for what is no length or out of range."""
        long = _LONG.fullmatch(value.strip()) if isinstance(value, str) else None
        return super().read(value if long is None else f"{float(long[1]) * _LONG_UNITS[long[2]]!r} mm", info)


_LONG = re.compile(r"([0-9]{1,7}(?:\.[0-9]{1,9})?) ?(m|ft|yd)")
_LONG_UNITS = {"m": 1000.0, "ft": 12 * INCH, "yd": 36 * INCH}


class Stock(Keys):
    """Keys of one [[stock]] entry: sheets of one kind, or a roll."""

    material: Material = Field(description="what it is used for, as `plan` calls it", examples=["cover paper"])
    name: Annotated[str, BeforeValidator(_name)] = Field(description="what it is called", examples=["harbour pad"])
    size: Annotated[Size, Named(20, 5000)] | None = Field(
        default=None, description="of a sheet, width first; a motif stands upright when it lies so"
    )
    length: Annotated[float, Roll(50, 1_000_000)] | None = Field(
        default=None, description="of tape or thread on a roll, instead of size"
    )
    width: Annotated[float, Span(1, 2000)] | None = Field(
        default=None, description="of a roll of tape; as wide as the tape that the book needs, where it is not written"
    )
    grain: StockGrain = Field(
        default="none", description="which side of the sheet the grain follows; none: it has none, or nobody knows"
    )
    against_grain: bool = Field(default=False, description="whether pieces may be cut across the grain, too")
    pattern: Pattern = Field(
        default="none", description="one-way: the motif has a top; two-way: it may stand on its head, not lie on its side"
    )
    count: Annotated[int, Field(ge=0, le=100_000)] | None = Field(default=None, description="sheets or rolls on hand")
    price: Annotated[str, BeforeValidator(_price)] = Field(
        default="", description="of a sheet or a roll, in any words", json_schema_extra={"type": ["string", "number"]}
    )

    excludes: ClassVar[tuple[tuple[str, str], ...]] = (("length", "size"), ("width", "size"))
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = (("size", "length"),)

    @property
    def on_roll(self) -> bool:
        """Whether it comes by the length."""
        return self.length is not None


class Cutting(Keys):
    """Keys of [cutting]."""

    blade: Annotated[float, Span(0, 10)] = Field(default=0.0, description="what a cut takes away")
    offcut: Annotated[float, Span(0, 1000)] = Field(
        default=30.0, description="an offcut is worth keeping when both its sides are at least so long"
    )
