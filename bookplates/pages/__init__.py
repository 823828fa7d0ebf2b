"""Plates -> printer pages: where each drawing stands, with bars and a title block."""
