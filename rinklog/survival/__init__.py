"""How long a repair held: estimates from censored spells, no Django."""
