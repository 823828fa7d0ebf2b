"""The paper on the table: what there is to cut from, and how it is cut. Lengths are mm once read."""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar, Literal, get_args

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from bookplates.geometry import Size
from bookplates.kinds.keys import INCH, Keys, Named, Span, fault, units_of
from bookplates.lengths import NotALength, close, fits, read_length, shown
from bookplates.spec.tables import line_of_text

Material = Literal["board", "cover paper", "cloth", "lining paper", "text paper", "tape", "card", "thread"]
"""What books are made of, as a plan calls it, and the thread they are sewn with."""

MATERIALS: tuple[Material, ...] = get_args(Material)
ON_ROLLS: tuple[Material, ...] = ("tape", "thread")
"""What comes by the length."""

MOST_STOCK = 200
"""Nobody has more kinds of paper on the table."""

StockGrain = Literal["long", "short", "none"]
Pattern = Literal["none", "one-way", "two-way"]


def _price(value: Any, info: ValidationInfo) -> Any:
    """A price is whatever somebody writes.

    A bare number with a point has two places, as TOML keeps no noughts at its end, or as many as were written.
    """
    if isinstance(value, bool) or not isinstance(value, int | float):
        return line_of_text(value, info)
    if not abs(value) < 1e9:
        raise fault(f"{shown(value)} is no price", "a number, or any words in quotes")
    return f"{value + 0.0:.2f}" if isinstance(value, float) and close(value, round(value, 2)) else f"{value}"


def _name(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and not value.strip():
        raise fault("is empty", "what the paper is called on the table")
    return line_of_text(value, info)


class Roll(Span):
    """Annotates a key that holds the length of what is on a roll: metres, feet and yards, too."""

    def read(self, value: Any, info: ValidationInfo) -> float:
        """The length in mm. Raises a fault for what is no length or out of range."""
        long = _LONG.fullmatch(value.strip()) if isinstance(value, str) else None
        try:
            length = (
                read_length(value, units_of(info))
                if long is None
                else read_length(long[1], "mm") * _LONG_UNITS[long[2][0].lower()]
            )
        except NotALength as error:
            raise fault(error.what, "mm, cm, m, in, ft or yd" if "unit" in error.what else error.hint) from None
        if not (fits(self.least, length) and fits(length, self.most)):
            written = shown(value) if isinstance(value, str) else f"{value:g} {units_of(info)}"
            raise fault(f"{written} is out of range", f"{self.least:g} mm to {self.most / 1000:,.0f} m")
        return length


_LONG = re.compile(r"(.*[^\sa-z])\s*(m|metres?|meters?|ft|foot|feet|yd|yards?)\.?", re.IGNORECASE)
_LONG_UNITS = {"m": 1000.0, "f": 12 * INCH, "y": 36 * INCH}
"""By the first letter of their names, mm."""


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
        default="", description="of a sheet or a roll: a number, or any words", json_schema_extra={"type": ["string", "number"]}
    )

    excludes: ClassVar[tuple[tuple[str, str], ...]] = (("length", "size"), ("width", "size"))
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = (("size", "length"),)

    @field_validator("size", "length", "width")
    @classmethod
    def _comes_so(cls, value: Any, info: ValidationInfo) -> Any:
        """Refuse sheets of thread, and rolls of what comes in sheets. Raises a fault."""
        material = info.data.get("material")
        if value is None or material is None:
            return value
        if info.field_name == "size" and material == "thread":
            raise fault("thread comes in no sheets", 'length, of what is on a reel, such as "50 m"')
        if info.field_name == "length" and material not in ON_ROLLS:
            raise fault(f"{material} comes in sheets, and only {' and '.join(ON_ROLLS)} by the length", "size, of a sheet")
        if info.field_name == "width" and material != "tape":
            raise fault(f"is only for a roll of tape, not for {material}", "leave it out")
        return value

    @property
    def on_roll(self) -> bool:
        """Whether it comes by the length."""
        return self.length is not None

    @property
    def idle(self) -> tuple[str, ...]:
        """Keys that change nothing: a roll is cut across, whatever its grain; where there is no grain, none is crossed."""
        if self.on_roll:
            return tuple(key for key in ("grain", "against_grain", "pattern") if key in self.model_fields_set)
        return ("against_grain",) if self.against_grain and self.grain == "none" else ()


class Cutting(Keys):
    """Keys of [cutting]."""

    blade: Annotated[float, Span(0, 10)] = Field(default=0.0, description="what a cut takes away")
    offcut: Annotated[float, Span(0, 1000)] = Field(
        default=30.0, description="an offcut is worth keeping when both its sides are at least so long"
    )
