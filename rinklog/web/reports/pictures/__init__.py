"""The pictures of a review as SVG numbers, drawn from its tables: what a picture shows stands in the table beside it."""
