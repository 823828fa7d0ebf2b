"""Whether the paper suffices, ways out where it does not, and the largest book that it makes."""
