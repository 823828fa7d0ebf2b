"""Boards and spine in one covering, or with cloth at the spine and the corners: the block is hung in by its endpapers."""
