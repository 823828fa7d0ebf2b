"""The keys a spec may hold: what every model of them shares, and how a length in one is read.

A fault found in a value is raised as a `PydanticCustomError` that carries the two halves of a
`Problem`, so that whoever collects them need not take English apart again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from bookplates.geometry import Size
from bookplates.lengths import MM_PER_INCH, NotALength, Units, both_sizes, fits, read_length, said
from bookplates.papers.sizes import read_size

INCH = MM_PER_INCH

LENGTH_SCHEMA: dict[str, Any] = {
    "anyOf": [{"type": "number"}, {"type": "string"}],
    "description": 'a length with its unit, such as "5 1/2 in" or "140 mm", or a bare number in `units`',
}


class Keys(BaseModel):
    """A table of the spec: frozen, strict, no key but its own.

    Attributes:
        excludes: pairs of keys that may not both be written; the first is the one to change.
        needs: a key, and those of which one has to stand beside it.
        one_of: keys of which one has to be written.
    """

    excludes: ClassVar[tuple[tuple[str, str], ...]] = ()
    needs: ClassVar[tuple[tuple[str, tuple[str, ...]], ...]] = ()
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = ()

    # most runs use one style and one pattern: what the others' models cost is paid when they are used
    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", allow_inf_nan=False, defer_build=True)


def fault(what: str, hint: str) -> PydanticCustomError:
    """A fault in one value, with what is allowed."""
    return PydanticCustomError("bookplates", "{what}; {hint}", {"what": what, "hint": hint})


def units_of(info: ValidationInfo) -> Units:
    """The unit that bare numbers are in."""
    context: Mapping[str, Units] = info.context or {}
    return context.get("units", "mm")


@dataclass(frozen=True, slots=True)
class Span:
    """Annotates a key that holds a length: the sane range, both ends included, mm."""

    least: float
    most: float

    def read(self, value: Any, info: ValidationInfo) -> float:
        """The length in mm. Raises a fault for what is no length or out of range."""
        units = units_of(info)
        try:
            length = read_length(value, units)
        except NotALength as error:
            raise fault(error.what, error.hint) from None
        if not (fits(self.least, length) and fits(length, self.most)):
            written, ends = said(length, units), (said(self.least, units), said(self.most, units))
            if written in ends or abs(length) >= 1e6:  # rounded to what is allowed, or longer than anybody reads
                written = f"{length:.7g} mm"
            raise fault(f"{written} is out of range", " to ".join(ends))
        return length

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read what was written before pydantic looks at it."""
        return core_schema.with_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Say in the JSON Schema what may be written, not what is kept."""
        return dict(LENGTH_SCHEMA)


class Squares(Keys):
    """How far the boards stand beyond the leaves, mm."""

    head: Annotated[float, Span(0, 50)]
    tail: Annotated[float, Span(0, 50)]
    fore_edge: Annotated[float, Span(0, 50)]

    @classmethod
    def all(cls, square: float) -> Squares:
        """The same square on three sides, mm."""
        return cls.model_construct(head=square, tail=square, fore_edge=square)


class TurnIns(Keys):
    """How much of a covering is folded over each edge of its board, mm."""

    head: Annotated[float, Span(3, 100)]
    tail: Annotated[float, Span(3, 100)]
    fore_edge: Annotated[float, Span(3, 100)]

    @classmethod
    def all(cls, turn_in: float) -> TurnIns:
        """The same turn-in on three sides, mm."""
        return cls.model_construct(head=turn_in, tail=turn_in, fore_edge=turn_in)


SIDES = ("head", "tail", "fore_edge")


@dataclass(frozen=True, slots=True)
class EachSide:
    """Annotates a key that holds one length for several sides, or a table of them.

    Attributes:
        span: the sane range, mm.
        otherwise: what a side gets that the table leaves out, as it would be written.
        sides: their names.
    """

    span: Span
    otherwise: str
    sides: tuple[str, ...] = SIDES

    def spread(self, value: Any, info: ValidationInfo) -> Any:
        """A table with all sides. Raises a fault for one length that will not do."""
        if isinstance(value, Keys):
            return value
        if isinstance(value, Mapping):
            return {**dict.fromkeys(self.sides, self.otherwise), **value}
        self.span.read(value, info)
        return dict.fromkeys(self.sides, value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Spread what was written before pydantic looks at it."""
        return core_schema.with_info_before_validator_function(self.spread, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """One length, or a table of the sides that differ."""
        table = {"type": "object", "properties": dict.fromkeys(self.sides, LENGTH_SCHEMA), "additionalProperties": False}
        return {"anyOf": [*LENGTH_SCHEMA["anyOf"], table]}


@dataclass(frozen=True, slots=True)
class Named:
    """Annotates a key that holds the size of a sheet: the sane range of a side, mm."""

    least: float
    most: float

    def read(self, value: Any, info: ValidationInfo) -> Any:
        """Width and height in mm, in the order written. Raises a fault for what is no size or out of range."""
        units = units_of(info)
        if isinstance(value, Size):
            return value
        try:
            size = read_size(value, units)
        except NotALength as error:
            raise fault(error.what, error.hint) from None
        for side in size:
            if not (fits(self.least, side) and fits(side, self.most)):
                allowed = f"{said(self.least, units)} to {said(self.most, units)} a side"
                raise fault(f"{both_sizes(size, units)} is out of range", allowed)
        return size

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Keep what `read` returns: it is whole."""
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """A name, two lengths, or a pair."""
        pair = {"type": "array", "items": {"anyOf": LENGTH_SCHEMA["anyOf"]}, "minItems": 2, "maxItems": 2}
        return {"anyOf": [{"type": "string"}, pair], "description": 'such as "Letter", "8.5 x 11 in", or a pair, width first'}
