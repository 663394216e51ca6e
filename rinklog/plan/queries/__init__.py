"""Reading the plan. Nothing here writes."""
