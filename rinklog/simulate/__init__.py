"""The command `simulate`: a weather file in, a marched column of rink out. Pure: no Django, no database."""
