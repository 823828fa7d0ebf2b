"""Prices as people write them: "£1.20", "1.20 EUR", "12,50 kr a sheet". What is no price stays the text it is."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import Decimal

_NUMBER = r"(?P<number>[0-9]{1,9}(?:[.,' \u00a0\u2009\u202f][0-9]{3}){0,3}(?:[.,][0-9]{1,4})?)"
_PRICE = re.compile(
    rf"(?P<before>[^\d\s.,+-]{{1,4}}\.?)?\s*{_NUMBER}\s*(?P<after>[^\d\s.,+/-]{{1,4}}\.?)?(?P<tail>.*)", re.DOTALL
)
_EACH = re.compile(r"(?:,?\s*(?:each|a|an|per|the|/)\s*(?:each|sheet|roll|board)?)?\s*", re.IGNORECASE)
_NO_CURRENCY = frozenset({"a", "an", "per", "each", "the", "for", "ca", "ca."})


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
    that is no number here.

    >>> read_price("£1.20").text, read_price("12,50 kr a sheet").text, read_price("ask at the shop"), read_price("1,200")
    ('£1.20', '12,50 kr', None, None)
    """
    found = _PRICE.fullmatch(text.strip())
    if found is None:
        return None
    before, after, tail = found["before"] or "", found["after"] or "", found["tail"]
    if after.casefold() in _NO_CURRENCY:
        after, tail = "", f"{after}{tail}"
    if (before and after) or not _EACH.fullmatch(tail) or not all(map(_is_currency, filter(None, (before, after)))):
        return None
    amount, comma = _amount(found["number"], bare=not (before or after))
    return None if amount is None else Price(amount, before or after, bool(before), comma)


def _amount(digits: str, *, bare: bool) -> tuple[Decimal | None, bool]:
    """The number, and whether a comma parts the cents; None where that cannot be told."""
    marks = [letter for letter in digits if letter in ".,"]
    plain = re.sub(r"['\s]", "", digits)
    if len(marks) == 1:
        whole, _, cents = plain.rpartition(marks[0])
        if len(cents) == 3 and whole.strip("0") and (marks[0] == "," or not bare):
            return None, False
        return Decimal(plain.replace(",", ".")), marks[0] == ","
    if len(set(marks)) == 2 and marks.count(marks[-1]) == 1:
        whole, _, cents = plain.rpartition(marks[-1])
        return Decimal(f"{whole.replace(marks[0], '')}.{cents}"), marks[-1] == ","
    if marks:
        return Decimal(re.sub("[.,]", "", plain)), False  # thousands alone: 1.200.000
    return Decimal(plain), False


def _is_sign(letter: str) -> bool:
    return unicodedata.category(letter) == "Sc"


def _is_currency(text: str) -> bool:
    """Whether it may be a currency: a sign, up to three letters, or both."""
    letters = text.rstrip(".")
    signs = [letter for letter in letters if _is_sign(letter)]
    named = [letter for letter in letters if letter.isalpha()]
    return bool(letters) and len(signs) <= 1 and len(named) <= 3 and len(signs) + len(named) == len(letters)
