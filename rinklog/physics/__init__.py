"""Pure physics of a rink: one process a file, SI floats or arrays, no Django."""
