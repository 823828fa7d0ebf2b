"""Numbers of things as people read them."""

from __future__ import annotations

PLURALS = {"leaf": "leaves"}


def counted(number: int, what: str) -> str:
    """So many of something.

    >>> counted(1, "sheet"), counted(3, "sheet"), counted(2, "leaf")
    ('1 sheet', '3 sheets', '2 leaves')
    """
    return f"{number} {what}" if number == 1 else f"{number} {PLURALS.get(what, f'{what}s')}"
