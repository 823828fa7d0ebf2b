"""The tables of a spec that every book has, whatever its cover and sewing. Lengths are mm once read."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, ValidationInfo

from bookplates.geometry import Size
from bookplates.kinds.block import Fold, Opening
from bookplates.kinds.keys import EachSide, Keys, Named, Span, fault, units_of
from bookplates.lengths import NotALength, Units, close, fits, said
from bookplates.papers.weights import read_weight
from bookplates.spec.second import NO_SECOND, Second

LONGEST_TITLE = 200

Orientation = Literal["upright", "oblong"]
SheetGrain = Literal["long", "short"]
Format = Literal["folio", "quarto", "octavo", "sextodecimo"]
HALVINGS: dict[Format, int] = {"folio": 1, "quarto": 2, "octavo": 3, "sextodecimo": 4}


def line_of_text(value: Any, info: ValidationInfo) -> Any:
    """Refuse what cannot stand on one printed line. Raises a fault."""
    if not isinstance(value, str):
        return value
    control = sorted({f"U+{ord(c):04X}" for c in value if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn")})
    if control:
        raise fault(f"holds control characters ({', '.join(control[:4])})", "letters, figures, signs and spaces")
    if len(value) > LONGEST_TITLE:
        raise fault(f"is {len(value)} characters long", f"{LONGEST_TITLE} at most")
    return _printable(value, second_of(info))


def second_of(info: ValidationInfo) -> Second:
    """What came of the second font."""
    context: Mapping[str, Any] = info.context or {}
    found = context.get("second", NO_SECOND)
    return found if isinstance(found, Second) else NO_SECOND


def _printable(value: str, second: Second) -> str:
    """Refuse letters the printed fonts lack, by name. Raises a fault.

    Where a second font is named but cannot serve, nobody knows which letters it would have had.
    """
    if value.isascii():
        return value  # every font has these: no need to open one
    from bookplates.letters import composed, missing, second_font, unshaped  # opens a font file

    with second_font(second.font):
        lacking = missing(value) if second.known else unshaped(value)
    if lacking:
        names = ", ".join(f"{c} ({unicodedata.name(c, f'U+{ord(c):04X}').lower()})" for c in lacking[:4])
        fonts = "printed fonts lack" if second.font else "printed font lacks"
        raise fault(f"holds letters that the {fonts}: {names}", _instead(lacking, second))
    return composed(value)


def _instead(lacking: str, second: Second) -> str:
    """What to do about letters that cannot be printed."""
    from bookplates.letters import unshaped

    if unshaped(lacking):
        return "letters that run from left to right, marks in one with theirs"
    if second.font:
        return "letters that one of the two has, or print.font with another font"
    return "Latin, Greek or Cyrillic letters, or print.font with a font that has them"


def _title(value: Any, info: ValidationInfo) -> Any:
    if isinstance(value, str) and not value.strip():
        raise fault("is empty", "the book's title, as it is to stand on every page")
    return line_of_text(value, info)


class Head(Keys):
    """What stands above the first table."""

    title: Annotated[str, BeforeValidator(_title)] = Field(description="stands on every page")
    maker: Annotated[str, BeforeValidator(line_of_text)] = Field(default="", description="who makes the book")
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
        read = said(reading, units) if not close(reading, round(reading), 0.01) else f"{reading:.7g} mm"
        raise fault(
            f"a bar of 100 mm that reads {read} comes from a printer set to fit to page",
            f"print at 100 % and read again; {said(95, units)} to {said(105, units)} is corrected for",
        )


class PageMargins(Keys):
    """What the printer cannot reach at each side of an upright page, mm."""

    top: Annotated[float, Span(0, 30)]
    bottom: Annotated[float, Span(0, 30)]
    left: Annotated[float, Span(0, 30)]
    right: Annotated[float, Span(0, 30)]

    @classmethod
    def all(cls, margin: float) -> PageMargins:
        """The same on every side, mm."""
        return cls.model_construct(top=margin, bottom=margin, left=margin, right=margin)


USUAL_MARGIN = "1/4 in"


def _font(value: Any, info: ValidationInfo) -> Any:
    """Refuse a font that cannot serve. Raises a fault."""
    if found := second_of(info).fault:
        raise fault(*found)
    return value


class Print(Keys):
    """Keys of [print]."""

    paper: Annotated[Size, Named(100, 2000)] | None = Field(
        default=None, description="paper in the printer; A4, or Letter with inches"
    )
    large_paper: Annotated[Size, Named(100, 2000)] | None = Field(
        default=None, description="larger paper, for plates that take fewer pages of it"
    )
    margin: Annotated[PageMargins, EachSide(Span(0, 30), USUAL_MARGIN, tuple(PageMargins.model_fields))] = Field(
        default=PageMargins.all(6.35), description="what the printer cannot reach"
    )
    overlap: Annotated[float, Span(5, 50)] = Field(default=10.0, description="of the tiles of a plate too large for one page")
    copies: Annotated[int, Field(ge=1, le=500)] = Field(default=1, description="of every plate that is cut out")
    font: Annotated[str, BeforeValidator(_font)] | None = Field(
        default=None, description="a TrueType file for letters that the built-in font lacks"
    )
    bar_across: Annotated[float, Bar(0, 10_000)] = Field(default=100.0, description="what a ruler reads on the 100 mm bar across")
    bar_along: Annotated[float, Bar(0, 10_000)] = Field(default=100.0, description="what a ruler reads on the 100 mm bar along")
