"""Leaves sewn through the side, between soft covers or boards with a hinge."""
