"""What can be bought: sheet sizes and paper weights; and the paper in the printer."""
