"""What the plan says against what the PDF measures: every part, up to a turn and a move, never a reflection."""

from bookplates.verify.search import Verified, compare, verify_pack
from bookplates.verify.whole import forgotten, lost

__all__ = ["Verified", "compare", "forgotten", "lost", "verify_pack"]
