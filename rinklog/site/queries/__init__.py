"""Reading the site. Nothing here writes."""
