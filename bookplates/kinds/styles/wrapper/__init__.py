"""One piece of folded card, with flaps or without."""
