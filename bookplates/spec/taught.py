"""A class: who makes the book, and how much more is made ready than is needed."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo

from bookplates.kinds.keys import Keys, fault
from bookplates.lengths import shown
from bookplates.spec.tables import line_of_text

MOST_STUDENTS = 2000
LONGEST_NAME = 300
USUAL_SPARE = 0.1
"""A tenth more of everything than is needed: common practice, no source."""

_PERCENT = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?%?")


def _students(value: Any) -> Any:
    """A number of students, or their names. Raises a fault."""
    if isinstance(value, list) and not value:
        raise fault("the list is empty", "a number, or a list of names")
    count = len(value) if isinstance(value, list) else value
    if isinstance(count, bool) or not isinstance(count, int):
        raise fault(f"{shown(value)} is neither a number nor a list of names", "a whole number, or a list of names in quotes")
    if not 1 <= count <= MOST_STUDENTS:
        many = f"{count:,} names are" if isinstance(value, list) else f"{count if abs(count) < 10**9 else 'so many'} is"
        raise fault(f"{many} out of range", f"1 to {MOST_STUDENTS:,}")
    if isinstance(value, int):
        return ("",) * value
    strange = next((entry for entry in value if not isinstance(entry, str)), None)
    if strange is not None:
        raise fault(f"{shown(strange)} is not a name", "names in quotes")
    return tuple(name_of(entry) for entry in value)


def name_of(text: str) -> str:
    """A name as it was written somewhere, on one line and of a length that can be printed."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())[:LONGEST_NAME]


def _spare(value: Any) -> Any:
    """A share, 0.1 for "10 %". Raises a fault."""
    written = _PERCENT.fullmatch(str(value).strip()) if isinstance(value, str | int | float) else None
    if isinstance(value, bool) or written is None:
        raise fault(f"{shown(value)} is not a share", 'write it like "10 %"')
    if isinstance(value, float) and 0 < value < 1:
        raise fault(f"{shown(value)} may be a share or a percentage", f'write it like "{100 * value:g} %"')
    if float(written[1]) > 100:
        raise fault(f"{shown(value)} is out of range", '"0 %" to "100 %"')
    return float(written[1]) / 100


def _words(value: Any, info: ValidationInfo) -> Any:
    return line_of_text(value, info)


def _number_or_names(schema: dict[str, Any]) -> None:
    """Say in the JSON Schema what may be written, not what is kept."""
    for key in ("type", "items", "default"):
        schema.pop(key, None)
    schema["anyOf"] = [{"type": "integer"}, {"type": "array", "items": {"type": "string"}}]


class Class(Keys):
    """Keys of [class]."""

    title: Annotated[str, BeforeValidator(_words)] = Field(default="", description="of the class; the book's title where absent")
    date: Annotated[str, BeforeValidator(_words)] = Field(default="", description="when it meets, in any words")
    students: Annotated[tuple[str, ...], BeforeValidator(_students)] = Field(
        default=("",),
        description="how many there are, or a list of their names",
        json_schema_extra=_number_or_names,
    )
    spare: Annotated[float, BeforeValidator(_spare)] = Field(
        default=USUAL_SPARE,
        description='what is bought and cut beyond what the students need, such as "10 %"',
        json_schema_extra={"type": ["string", "number"]},
    )
