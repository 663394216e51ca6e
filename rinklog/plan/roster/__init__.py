"""The fair roster: pure, no Django. People and nights in, a proposal with its reasons out."""
