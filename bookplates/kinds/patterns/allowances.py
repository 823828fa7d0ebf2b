"""Thread that no distance accounts for, mm: common practice, no source. Stated, so that it can be argued with."""

from __future__ import annotations

FIRST_LOOP = 6.0
"""The loop left standing at the first station of a chain."""

LINK = 1.5
"""Going round another stitch; the way to it and back is a distance, and counted as one."""

HITCH = 9.0
"""A half hitch drawn tight; a knot of two ends takes two."""
