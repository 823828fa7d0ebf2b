"""Pieces on sheets, by straight cuts from edge to edge."""

from bookplates.workshop.cutting.tree import Cut, CutSheet, Node, Offcut, Put, Want

__all__ = ["Cut", "CutSheet", "Node", "Offcut", "Put", "Want"]
