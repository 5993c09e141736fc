"""The typeface that is embedded in the PDF, with its licence."""
