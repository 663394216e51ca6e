"""Writing the plan: keyword-only, one transaction each, safe to call twice."""
