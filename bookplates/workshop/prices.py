"""Prices as people write them: "£1.20", "1.20 EUR", "12,50 kr a sheet". What is no price stays the text it is."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal

_NUMBER = (
    r"(?P<whole>[1-9][0-9]{0,2}(?P<mark>[.,' \u00a0\u2009\u202f])[0-9]{3}(?:(?P=mark)[0-9]{3}){0,2}|[0-9]{1,9})"
    r"(?:(?!(?P=mark))(?P<point>[.,])(?P<cents>[0-9]{1,4}))?"
)
"""Thousands are parted by one mark, three digits behind each; the mark before the cents is another."""
_PRICE = re.compile(
    rf"(?P<before>[^\d\s.,+-]{{1,4}}\.?)?\s*(?P<number>{_NUMBER})\s*(?P<after>[^\d\s.,+/-]{{1,4}}\.?)?(?P<tail>.*)", re.DOTALL
)
_EACH = re.compile(r"(?:,?\s*(?:each|a|an|per|the|/)\s*(?:each|sheet|roll|board)?)?\s*", re.IGNORECASE)
_EACH_BEGINS = frozenset({"a", "an", "per", "each", "the"})
_LATIN = ("br", "c", "ct", "cts", "den", "din", "eur", "fr", "ft", "gbp", "kr", "kč", "lei", "leu", "lev", "lv", "p", "r", "re",
          "rm", "rp", "rs", "sfr", "sh", "tl", "usd", "zł")  # fmt: skip
_SHORT_NAMES = frozenset((*_LATIN, "ден", "дин", "лв", "р", "руб", "грн", "元", "円", "원"))
"""What people write for a currency that has neither its sign nor its code of ISO 4217: from memory."""
_NO_CODES = frozenset({"AND", "BUY", "FOR", "GET", "MAX", "MIN", "OFF", "OLD", "NEW", "ONE", "PCS", "PER", "THE", "TWO", "ALL"})
"""Words of three capitals that are none."""


@dataclass(frozen=True, slots=True)
class Price:
    """A price of one sheet or roll, or a sum of them.

    Attributes:
        amount: how much.
        currency: as it is written; empty where there was a number alone.
        before: whether the currency stands before the number.
        comma: whether a comma parts the cents.
    """

    amount: Decimal
    currency: str = ""
    before: bool = False
    comma: bool = False

    def times(self, count: int) -> Price:
        """So many of them."""
        return Price(self.amount * count, self.currency, self.before, self.comma)

    @property
    def text(self) -> str:
        """As it was written: the currency on its side, two places where it is not a whole number.

        >>> Price(Decimal("1.2"), "EUR").times(25).text, Price(Decimal("12.5"), "kr", comma=True).text
        ('30 EUR', '12,50 kr')
        """
        places = max(2, -int(self.amount.normalize().as_tuple().exponent))  # of a finite amount it is a number
        whole = self.amount == self.amount.to_integral_value()
        digits = f"{self.amount:.0f}" if whole else f"{self.amount:.{places}f}"
        digits = digits.replace(".", ",") if self.comma else digits
        if not self.currency:
            return digits
        tight = "" if _is_sign(self.currency[-1]) and self.before else " "
        return f"{self.currency}{tight}{digits}" if self.before else f"{digits} {self.currency}"


def read_price(text: str) -> Price | None:
    """The price that a text names; None for one that is no number with at most a currency.

    A comma with three digits behind it, or a point beside a currency, may part thousands or cents: nobody can tell, so
    that is no number here; nor is one below nothing, nor one with a word beside it that names no currency.

    >>> read_price("£1.20").text, read_price("12,50 kr a sheet").text, read_price("ask at the shop"), read_price("1,200")
    ('£1.20', '12,50 kr', None, None)
    """
    found = _PRICE.fullmatch(text.strip())
    if found is None:
        return None
    before, after, tail = found["before"] or "", found["after"] or "", found["tail"]
    if after.casefold() in _EACH_BEGINS:
        after, tail = "", f"{after}{tail}"
    if (before and after) or not _EACH.fullmatch(tail) or not all(map(_is_currency, filter(None, (before, after)))):
        return None
    amount = _amount(found, bare=not (before or after))
    return None if amount is None else Price(amount, before or after, bool(before), comma=found["point"] == ",")


def _amount(found: re.Match[str], *, bare: bool) -> Decimal | None:
    """The number; None where nobody can tell thousands from cents."""
    whole, mark, point, cents = found["whole"], found["mark"], found["point"], found["cents"]
    if not cents and mark in (".", ",") and whole.count(mark) == 1:
        return Decimal(whole) if bare and mark == "." else None
    if cents and len(cents) == 3 and mark not in (".", ",") and whole.strip("0") and not (bare and point == "."):
        return None
    digits = whole.replace(mark, "") if mark else whole
    return Decimal(f"{digits}.{cents}" if cents else digits)


def _is_sign(letter: str) -> bool:
    return unicodedata.category(letter) == "Sc"


def _is_currency(text: str) -> bool:
    """Whether it is a currency: a sign, with up to three letters beside it, a code of three capitals, or a short name."""
    name = text.rstrip(".")
    letters = "".join(letter for letter in name if not _is_sign(letter))
    if len(name) - len(letters) == 1:
        return len(letters) <= 3 and (letters.isalpha() or not letters)
    code = len(name) == 3 and name.isascii() and name.isalpha() and name.isupper() and name not in _NO_CODES
    return code or name.casefold() in _SHORT_NAMES
