"""Every calculator as a declaration: keys, results, sources and one function, no Django."""
