"""The review as a PDF to print: A4, black on white, the pictures drawn from the same tables."""
