"""Small drawings beside the steps, not to scale, from the plan's proportions."""
