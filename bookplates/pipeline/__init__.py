"""The one place that knows the order of the rooms: a book in `book.py`, its paper in `paper.py`, a class in `lesson.py`."""

from bookplates.pipeline.book import Checked, Made, Wanted, make_pack, plan, problems_of, spec_schema, verify

__all__ = ["Checked", "Made", "Wanted", "make_pack", "plan", "problems_of", "spec_schema", "verify"]
