"""The one place that knows the order of the rooms.

A book in `book.py`, its paper in `paper.py` and `on_table.py`, a class in `lesson.py`, what came back in `returned.py`.
"""

from bookplates.pipeline.book import Made, Wanted, make_pack, plan, problems_of, spec_schema
from bookplates.pipeline.returned import Checked, verify

__all__ = ["Checked", "Made", "Wanted", "make_pack", "plan", "problems_of", "spec_schema", "verify"]
