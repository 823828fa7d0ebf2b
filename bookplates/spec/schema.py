"""The JSON Schema of a spec, from the models that check it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bookplates.kinds.keys import Keys
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.spec.stock import Cutting, Stock
from bookplates.spec.tables import Head, Measured, Print, TextBlock
from bookplates.spec.taught import Class


def schema() -> dict[str, Any]:
    """The schema (draft 2020-12): one object, a property for each key above the first table and for each table.

    What one key says of another (pairs that exclude each other, sizes that do not go together) is beyond a
    schema; reading the spec tells.
    """
    definitions: dict[str, Any] = {}
    head = _of(Head, definitions)
    own = {name: _of(model, definitions) for style in STYLES.values() for name, model in style.tables.items()}
    tables = {
        "text_block": _of(TextBlock, definitions),
        "measured": _of(Measured, definitions),
        "cover": _any_of({name: _cover(style, definitions) for name, style in STYLES.items()}, "style"),
        **own,
        "sewing": _any_of({name: _of(pattern, definitions) for name, pattern in PATTERNS.items()}, "pattern"),
        "print": _of(Print, definitions),
        "stock": {"type": "array", "items": _of(Stock, definitions), "description": "the paper on the table"},
        "cutting": _of(Cutting, definitions),
        "class": _of(Class, definitions),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A book",
        "type": "object",
        "properties": {**head["properties"], **tables},
        "required": ["title", "text_block", "cover"],
        "additionalProperties": False,
        "$defs": dict(sorted(definitions.items())),
    }


def _of(model: type[Keys], definitions: dict[str, Any]) -> dict[str, Any]:
    table = model.model_json_schema(ref_template="#/$defs/{model}")
    definitions.update(table.pop("$defs", {}))
    table["required"] = [key for key in table.get("required", []) if key != "pattern"]
    for key, field in model.model_fields.items():
        if field.default is None and key in table["properties"]:
            table["properties"][key] = _without_null(table["properties"][key])
    return table


def _cover(style: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    """A style's keys of [cover]: tables of its own stand beside [cover], and the style has to be named."""
    table = _of(style, definitions)
    for name in style.tables:
        table["properties"].pop(name, None)
    return {**table, "required": ["style"]}


def _without_null(field: Mapping[str, Any]) -> dict[str, Any]:
    """A key that may be left out is not null when it is written."""
    kept = [choice for choice in field.get("anyOf", []) if choice != {"type": "null"}]
    rest = {key: value for key, value in field.items() if key not in ("anyOf", "default")}
    return {**kept[0], **rest} if len(kept) == 1 else ({**rest, "anyOf": kept} if kept else rest)


def _any_of(kinds: Mapping[str, dict[str, Any]], key: str) -> dict[str, Any]:
    return {"anyOf": list(kinds.values()), "description": f"chosen by {key}: {', '.join(kinds)}"}
