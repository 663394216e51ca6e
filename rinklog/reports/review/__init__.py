"""The season in review: one frozen object that feeds the page, the PDF, the CSV files and the spreadsheet."""
