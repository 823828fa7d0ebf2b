"""True-scale printable templates for books made by hand, from one short description of the book.

>>> from bookplates import plan
>>> text = '''
... title = "Orchard notebook"
... text_block = {sheet = "A4", format = "quarto", sheets = 4, caliper = 0.1}
... cover = {style = "taped"}
... '''
>>> plan(text).text_block.pages
32
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bookplates.pipeline import Wanted, make_pack, plan, spec_schema
    from bookplates.readback import attached_spec, measure_pdf
    from bookplates.verify import verify_pack

__version__ = "0.1.0"

__all__ = ["Wanted", "__version__", "attached_spec", "make_pack", "measure_pdf", "plan", "spec_schema", "verify_pack"]

_HOMES = {
    "Wanted": "bookplates.pipeline",
    "attached_spec": "bookplates.readback",
    "make_pack": "bookplates.pipeline",
    "measure_pdf": "bookplates.readback",
    "plan": "bookplates.pipeline",
    "spec_schema": "bookplates.pipeline",
    "verify_pack": "bookplates.verify",
}


def __getattr__(name: str) -> Any:
    """Fetch a public name when it is first used (PEP 562): nothing heavy is loaded before."""
    if name not in _HOMES:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """The public names."""
    return sorted(__all__)
