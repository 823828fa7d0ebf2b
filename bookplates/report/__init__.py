"""Tables for people: plain text, no wider than need be."""

from bookplates.report.book import measured_table, plan_table, verified_line

__all__ = ["measured_table", "plan_table", "verified_line"]
