"""Writing the site: keyword-only, one transaction, safe to call twice."""
