"""Pure rules of planning: no Django, no database, no clock of their own."""
