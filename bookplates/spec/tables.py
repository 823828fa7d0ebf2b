"""The tables of a spec that every book has, whatever its cover and sewing. Lengths are mm once read."""

from __future__ import annotations

import unicodedata
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, ValidationInfo

from bookplates.geometry import Size
from bookplates.kinds.block import Fold, Opening
from bookplates.kinds.keys import Keys, Named, Span, fault, units_of
from bookplates.lengths import NotALength, Units, fits, said
from bookplates.papers.weights import read_weight

LONGEST_TITLE = 200

Orientation = Literal["upright", "oblong"]
SheetGrain = Literal["long", "short"]
Format = Literal["folio", "quarto", "octavo", "sextodecimo"]
HALVINGS: dict[Format, int] = {"folio": 1, "quarto": 2, "octavo": 3, "sextodecimo": 4}


def _line_of_text(value: Any) -> Any:
    """Refuse what cannot stand on one printed line. Raises a fault."""
    if not isinstance(value, str):
        return value
    control = sorted({f"U+{ord(c):04X}" for c in value if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn")})
    if control:
        raise fault(f"holds control characters ({', '.join(control[:4])})", "letters, figures, signs and spaces")
    if len(value) > LONGEST_TITLE:
        raise fault(f"is {len(value)} characters long", f"{LONGEST_TITLE} at most")
    return _printable(value)


def _printable(value: str) -> str:
    """Refuse letters the printed font lacks, by name. Raises a fault."""
    if value.isascii():
        return value  # every font has these: no need to open one
    from bookplates.letters import missing  # opens a font file

    composed = unicodedata.normalize("NFC", value)
    lacking = missing(composed)
    if lacking:
        names = ", ".join(f"{c} ({unicodedata.name(c, f'U+{ord(c):04X}').lower()})" for c in lacking[:4])
        raise fault(f"holds letters that the printed font lacks: {names}", "Latin, Greek or Cyrillic letters, left to right")
    return composed


def _title(value: Any) -> Any:
    if isinstance(value, str) and not value.strip():
        raise fault("is empty", "the book's title, as it is to stand on every page")
    return _line_of_text(value)


class Head(Keys):
    """What stands above the first table."""

    title: Annotated[str, BeforeValidator(_title)] = Field(description="stands on every page")
    maker: Annotated[str, BeforeValidator(_line_of_text)] = Field(default="", description="who makes the book")
    units: Units = Field(default="mm", description="bare numbers, and which unit is shown first")


def _weight(value: Any) -> Any:
    try:
        return read_weight(value)
    except NotALength as error:
        raise fault(error.what, error.hint) from None


def _trim(value: Any, info: ValidationInfo) -> Any:
    return value if value in ("flush", "none") else Span(0, 100).read(value, info)


class TextBlock(Keys):
    """Keys of [text_block]."""

    sheet: Annotated[Size, Named(10, 5000)] | None = Field(default=None, description="size of the paper as bought")
    format: Format | None = Field(default=None, description="how often a sheet is halved: once, twice, three, four times")
    orientation: Orientation = Field(default="upright", description="which way the leaf stands")
    grain: SheetGrain = Field(default="long", description="which side of the sheet the grain follows")
    leaf: Annotated[Size, Named(20, 1000)] | None = Field(default=None, description="size of a leaf, instead of sheet and format")
    sheets: Annotated[int, Field(ge=1, le=5000)] | None = Field(default=None, description="sheets as bought, in all")
    folios: Annotated[int, Field(ge=1, le=5000)] | None = Field(default=None, description="folded sheets, in all")
    sections: Annotated[int, Field(ge=1, le=500)] = Field(default=1, description="how many sections they are nested in")
    opening: Opening = Field(default="left", description="spine side seen from the front")
    caliper: Annotated[float, Span(0.02, 1)] | None = Field(
        default=None, description="thickness of one sheet; 0.1 mm where nothing is said"
    )
    grammage: Annotated[float, Field(ge=10, le=1000)] | None = Field(
        default=None, description="g/m2, with bulk instead of caliper"
    )
    bulk: Annotated[float, Field(ge=0.3, le=5)] | None = Field(default=None, description="cm3/g")
    weight: Annotated[float, BeforeValidator(_weight)] | None = Field(
        default=None,
        description='pounds of a US basic ream, such as "20 lb bond", with bulk',
        json_schema_extra={"type": "string"},
    )
    fold: Fold = Field(default="sharp", description="how creep is reckoned")
    trim: Annotated[Literal["flush", "none"] | float, BeforeValidator(_trim)] = Field(
        default="flush",
        description='fore-edge: "flush", "none", or a length off the innermost leaf',
        json_schema_extra={"anyOf": [{"type": "number"}, {"type": "string"}]},
    )

    excludes: ClassVar[tuple[tuple[str, str], ...]] = (
        ("sheet", "leaf"),
        ("format", "leaf"),
        ("orientation", "leaf"),
        ("grain", "leaf"),
        ("sheets", "leaf"),
        ("sheets", "folios"),
        ("grammage", "caliper"),
        ("weight", "caliper"),
        ("bulk", "caliper"),
        ("weight", "grammage"),
    )
    needs: ClassVar[tuple[tuple[str, tuple[str, ...]], ...]] = (
        ("sheet", ("format",)),
        ("format", ("sheet",)),
        ("sheets", ("format",)),
        ("grammage", ("bulk",)),
        ("weight", ("bulk",)),
        ("bulk", ("grammage", "weight")),
    )
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = (("sheet", "leaf"), ("sheets", "folios"))


class Measured(Keys):
    """Keys of [measured]: the sewn or pressed block as a ruler finds it."""

    width: Annotated[float, Span(10, 1000)] | None = Field(default=None, description="outermost fold to fore-edge")
    height: Annotated[float, Span(20, 1000)] | None = Field(default=None, description="head to tail")
    thickness: Annotated[float, Span(0.02, 500)] | None = Field(default=None, description="at the spine, lightly pressed")


class Bar(Span):
    """Annotates a key that holds what a ruler reads on a bar of 100 mm."""

    def read(self, value: Any, info: ValidationInfo) -> float:
        """The length in mm. Raises a fault for what is no length, or too far off to be corrected for."""
        reading = super().read(value, info)
        if fits(95, reading) and fits(reading, 105):
            return reading
        units = units_of(info)
        raise fault(
            f"a bar of 100 mm that reads {said(reading, units)} comes from a printer set to fit to page",
            f"print at 100 % and read again; {said(95, units)} to {said(105, units)} is corrected for",
        )


class Print(Keys):
    """Keys of [print]."""

    paper: Annotated[Size, Named(100, 2000)] | None = Field(
        default=None, description="paper in the printer; A4, or Letter with inches"
    )
    margin: Annotated[float, Span(0, 30)] = Field(default=6.35, description="what the printer cannot reach")
    overlap: Annotated[float, Span(5, 50)] = Field(default=10.0, description="of the tiles of a plate too large for one page")
    bar_across: Annotated[float, Bar(0, 10_000)] = Field(default=100.0, description="what a ruler reads on the 100 mm bar across")
    bar_along: Annotated[float, Bar(0, 10_000)] = Field(default=100.0, description="what a ruler reads on the 100 mm bar along")
