"""Pure geometry of a rink: one thing a file, SI, no Django."""
